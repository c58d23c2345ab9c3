//! Completed bodies against textbook cells, and over the whole domain.

use body::{Body, Measure, Origin, Tape, complete, plausible, population};
use proptest::prelude::*;

fn body(readings: &[(Measure, f64)]) -> Body {
    let tape = readings
        .iter()
        .fold(Tape::new("x"), |tape, (measure, value)| {
            tape.with(*measure, *value)
        });
    complete(&tape)
}

fn of_bust(bust: f64) -> Body {
    body(&[(Measure::Bust, bust)])
}

fn check(body: &Body, measure: Measure, low: f64, high: f64) {
    let value = body.mm(measure);
    assert!(
        (low..=high).contains(&value),
        "{} is {value:.0}, not {low} to {high}",
        measure.key()
    );
}

#[test]
fn textbook_cells_lie_within_the_spread() {
    // Aldrich, Metric Pattern Cutting for Women's Wear, 6th ed. 2015, sizes 12 and 16 (second-hand): one textbook's idea of
    // a size against the mean of women with that bust, so each cell must lie within two standard deviations.
    for (bust, cells) in [
        (
            920.0,
            [
                (Measure::Waist, 760.0),
                (Measure::Hip, 1000.0),
                (Measure::AcrossBack, 354.0),
                (Measure::AcrossFront, 336.0),
                (Measure::ShoulderLength, 125.0),
                (Measure::NeckBase, 380.0),
                (Measure::UpperArm, 296.0),
            ],
        ),
        (
            1000.0,
            [
                (Measure::Waist, 840.0),
                (Measure::Hip, 1080.0),
                (Measure::AcrossBack, 374.0),
                (Measure::AcrossFront, 360.0),
                (Measure::ShoulderLength, 130.0),
                (Measure::NeckBase, 400.0),
                (Measure::UpperArm, 320.0),
            ],
        ),
    ] {
        let body = of_bust(bust);
        for (measure, cell) in cells {
            let away = (cell - body.mm(measure)) / body.sd(measure);
            assert!(
                away.abs() < 2.0,
                "{} at bust {bust}: {away:.1}",
                measure.key()
            );
        }
    }
}

#[test]
fn the_standards_public_size_lies_within_the_spread() {
    // ASTM D5585-11e1, public page, size 8 (seen): bust 36 1/4, under-bust 30, upper chest 35 7/8, neck base 14 5/8,
    // head 21 3/4, waist 28 (curvy) or 29 1/2 (straight) inches.
    let inch = 25.4;
    let body = of_bust(36.25 * inch);
    for (measure, inches) in [
        (Measure::UnderBust, 30.0),
        (Measure::UpperChest, 35.875),
        (Measure::NeckBase, 14.625),
        (Measure::Head, 21.75),
        (Measure::Waist, 28.0),
        (Measure::Waist, 29.5),
    ] {
        let away = (inches * inch - body.mm(measure)) / body.sd(measure);
        assert!(away.abs() < 2.0, "{}: {away:.1}", measure.key());
    }
}

#[test]
fn an_average_woman_is_drawn_as_one() {
    // Ranges from common practice, no source; they are what the drafts were tried on.
    let body = body(&[(Measure::Bust, 920.0), (Measure::Stature, 1630.0)]);
    let full = body.mm(Measure::Bust) - body.mm(Measure::UpperChest);
    assert!((22.0..=32.0).contains(&full), "{full}");
    check(&body, Measure::NeckToBustPoint, 255.0, 275.0);
    check(&body, Measure::BackWaistLength, 385.0, 410.0);
    let longer = body.mm(Measure::FrontWaistLength) - body.mm(Measure::BackWaistLength);
    assert!((20.0..=30.0).contains(&longer), "{longer}");
    check(&body, Measure::BustPointWidth, 175.0, 195.0);
    check(&body, Measure::Armscye, 0.43 * 920.0, 0.48 * 920.0);
}

#[test]
fn a_large_bust_on_a_small_frame_is_told_from_a_large_woman() {
    let small_frame = body(&[
        (Measure::Bust, 1200.0),
        (Measure::Waist, 760.0),
        (Measure::Hip, 980.0),
        (Measure::UpperArm, 285.0),
        (Measure::AcrossBack, 360.0),
    ]);
    let large = body(&[
        (Measure::Bust, 1200.0),
        (Measure::Waist, 1080.0),
        (Measure::Hip, 1230.0),
        (Measure::UpperArm, 375.0),
        (Measure::AcrossBack, 415.0),
    ]);
    let full = |body: &Body| body.mm(Measure::Bust) - body.mm(Measure::UpperChest);
    assert!(full(&small_frame) > 120.0, "{}", full(&small_frame));
    assert!(full(&large) < 80.0, "{}", full(&large));
    assert!(small_frame.mm(Measure::Armscye) < large.mm(Measure::Armscye));
    // The dart's second witness: the front grows longer with the bust.
    let longer =
        |body: &Body| body.mm(Measure::FrontWaistLength) - body.mm(Measure::BackWaistLength);
    assert!(longer(&small_frame) > longer(&large) + 15.0);
}

#[test]
fn every_size_from_slight_to_very_large_is_drawable() {
    for bust in [700.0, 760.0, 880.0, 920.0, 1000.0, 1200.0, 1400.0, 1500.0] {
        let body = of_bust(bust);
        let mm = |measure| body.mm(measure);
        let armhole_width =
            (mm(Measure::UpperChest) - mm(Measure::AcrossBack) - mm(Measure::AcrossFront)) / 2.0;
        assert!(armhole_width > 40.0, "bust {bust}: {armhole_width}");
        assert!(mm(Measure::UpperChest) < bust);
        assert!(mm(Measure::FrontWaistLength) - mm(Measure::NeckToBustPoint) > 110.0);
        let ratio = mm(Measure::Armscye) / bust;
        assert!((0.34..0.54).contains(&ratio), "bust {bust}: {ratio}");
        check(&body, Measure::NeckToBustPoint, 225.0, 350.0);
        check(&body, Measure::BackWaistLength, 350.0, 460.0);
    }
}

#[test]
fn estimates_say_what_they_come_from() {
    let body = body(&[
        (Measure::Bust, 920.0),
        (Measure::Hip, 1000.0),
        (Measure::Stature, 1650.0),
    ]);
    assert_eq!(
        body.value(Measure::Bust).origin,
        Origin::Measured { readings: 1 }
    );
    let from = |measure| match &body.value(measure).origin {
        Origin::Estimated { from } => from.clone(),
        Origin::Measured { .. } => panic!("not taped"),
    };
    assert!(
        from(Measure::UnderBust).starts_with("bust"),
        "{}",
        from(Measure::UnderBust)
    );
    assert!(
        from(Measure::WaistToFloor).starts_with("height"),
        "{}",
        from(Measure::WaistToFloor)
    );
    assert_eq!(
        from(Measure::ShoulderSlope),
        "the mean of the survey's women"
    );
}

fn any_measure() -> impl Strategy<Value = Measure> {
    (0..Measure::COUNT).prop_map(|i| Measure::ALL[i])
}

proptest! {
    #[test]
    fn every_tape_gives_a_possible_body(
        readings in prop::collection::vec((any_measure(), 0.0..1.0_f64), 0..40)
    ) {
        let mut tape = Tape::new("x");
        for (measure, share) in readings {
            let about = measure.about();
            tape = tape.with(measure, about.least + share * (about.most - about.least));
        }
        let body = complete(&tape);
        for measure in Measure::ALL {
            let about = measure.about();
            prop_assert!((about.least..=about.most).contains(&body.mm(measure)), "{}", measure.key());
            prop_assert!(body.sd(measure).is_finite() && body.sd(measure) > 0.0);
            if let Some(mean) = tape.mean(measure) {
                prop_assert_eq!(body.mm(measure), mean);
            }
        }
        let _ = plausible::findings(&tape, &body);
    }

    #[test]
    fn more_readings_never_widen_an_estimate(seed in 0_u64..1000, known in any_measure(), asked in any_measure()) {
        let woman = population::draw(1, seed).next().unwrap();
        let one = Tape::new("x").with(Measure::Bust, woman.mean(Measure::Bust).unwrap());
        let two = one.clone().with(known, woman.mean(known).unwrap());
        prop_assert!(complete(&two).sd(asked) <= complete(&one).sd(asked) + 1e-9);
    }
}

#[test]
fn the_same_seed_draws_the_same_women() {
    let first: Vec<Tape> = population::draw(5, 3).collect();
    assert_eq!(first, population::draw(5, 3).collect::<Vec<_>>());
    assert_ne!(first, population::draw(5, 4).collect::<Vec<_>>());
}

#[test]
fn drawn_women_have_the_published_means_and_spreads() {
    let women: Vec<Tape> = population::draw(4000, 11).collect();
    for measure in Measure::ALL {
        let values: Vec<f64> = women
            .iter()
            .filter_map(|woman| woman.mean(measure))
            .collect();
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        let variance =
            values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / values.len() as f64;
        let published = body::figures::deviation(measure);
        let away = (mean - body::figures::mean(measure)) / published;
        assert!(away.abs() < 0.08, "{}: {away}", measure.key());
        let ratio = variance.sqrt() / published;
        assert!((0.93..1.05).contains(&ratio), "{}: {ratio}", measure.key());
    }
}
