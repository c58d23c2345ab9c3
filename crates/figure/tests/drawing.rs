//! The drawing: every measure has its place, numbers keep apart, nothing breaks on bodies that contradict themselves.

use body::population::draw;
use body::{Body, Kind, Measure, Tape, complete};
use figure::{CHALK, Group, Side, Style, best_side, number, sheet_of, view};
use geometry::{BezPath, Point, Rect};
use sheet::{Colour, Item, Layer, Panel, Shape, svg};

fn by_bust(bust: f64) -> Body {
    complete(&Tape::new("by bust").with(Measure::Bust, bust))
}

fn sizes() -> impl Iterator<Item = Body> {
    let drawn = draw(40, 7).map(|tape| complete(&tape));
    [760.0, 880.0, 1000.0, 1200.0, 1400.0]
        .map(by_bust)
        .into_iter()
        .chain(drawn)
}

/// Length of what is drawn before the body for a measure, mm of the body.
fn drawn_length(body: &Body, side: Side, measure: Measure) -> f64 {
    let style = Style {
        scale: 1.0,
        numbered: false,
        ..Style::default()
    };
    let panel = view(body, side, &[measure], &style);
    let solid = panel
        .items
        .iter()
        .filter(|item| item.id.as_deref() == Some(measure.key()));
    let paths = solid.filter_map(|item| match &item.shape {
        Shape::Path {
            path,
            line: Some(line),
            ..
        } if line.dash.is_empty() => Some(path),
        _ => None,
    });
    paths.map(length).sum()
}

fn length(path: &BezPath) -> f64 {
    let segments: Vec<_> = path.segments().collect();
    geometry::Curve::from_segments(segments).map_or(0.0, |curve| curve.length())
}

#[test]
fn every_measure_is_drawn_where_it_is_seen_best() {
    let body = by_bust(920.0);
    for measure in Measure::ALL {
        assert!(
            drawn_length(&body, best_side(measure), measure) > 20.0,
            "{}",
            measure.label()
        );
    }
}

#[test]
fn groups_hold_every_measure_once_and_in_order() {
    let all: Vec<Measure> = Group::ALL
        .iter()
        .flat_map(|group| group.measures.iter().copied())
        .collect();
    assert_eq!(all, Measure::ALL);
    for (k, measure) in Measure::ALL.into_iter().enumerate() {
        assert_eq!(number(measure), k + 1);
    }
}

#[test]
fn tapes_drawn_are_as_long_as_the_measures() {
    for body in sizes() {
        for (side, measure, off) in [
            (Side::Front, Measure::BustPointWidth, 1e-6),
            (Side::Front, Measure::ShoulderLength, 0.03),
            (Side::Profile, Measure::BustFrontArc, 0.5),
            (Side::Back, Measure::ArmLength, 0.08),
            (Side::Back, Measure::ShoulderToElbow, 0.08),
            (Side::Profile, Measure::Stature, 1e-6),
            // The tape follows the back; seen from behind it is straight.
            (Side::Back, Measure::BackWaistLength, 0.06),
            // A nape that the height does not allow is moved.
            (Side::Profile, Measure::BackWaistLength, 0.08),
            (Side::Profile, Measure::Armscye, 0.12),
        ] {
            let (drawn, taped) = (drawn_length(&body, side, measure), body.mm(measure));
            let share = drawn / taped - 1.0;
            // Half of a front arc is seen from the side, foreshortened.
            let share = if measure.about().kind == Kind::Arc {
                drawn / taped - 0.4
            } else {
                share
            };
            assert!(
                share.abs() < off,
                "{} {}: {drawn} for {taped}",
                body.name,
                measure.label()
            );
        }
    }
}

#[test]
fn the_back_of_the_profile_is_as_long_as_the_tape_on_average() {
    let shares: Vec<f64> = sizes()
        .map(|body| {
            let drawn = drawn_length(&body, Side::Profile, Measure::BackWaistLength);
            drawn / body.mm(Measure::BackWaistLength)
        })
        .collect();
    let mean = shares.iter().sum::<f64>() / shares.len() as f64;
    assert!((mean - 1.0).abs() < 0.01, "{mean}");
}

fn rings(panel: &Panel) -> Vec<Rect> {
    let rings = panel
        .items
        .iter()
        .filter(|item| item.layer == Layer::Text && matches!(item.shape, Shape::Path { .. }));
    rings.filter_map(Item::bounds).collect()
}

#[test]
fn numbers_keep_apart_and_clear_of_the_figure() {
    let style = Style::default();
    for body in sizes() {
        for side in Side::ALL {
            let panel = view(&body, side, &Measure::ALL, &style);
            let rings = rings(&panel);
            assert!(rings.len() > 8);
            let figure = panel
                .items
                .iter()
                .find(|item| item.id.as_deref() == Some("body"));
            let figure = figure.and_then(Item::bounds).expect("the body is drawn");
            for (k, ring) in rings.iter().enumerate() {
                assert!(!ring.overlaps(figure), "{}", body.name);
                assert!(
                    rings[..k].iter().all(|other| !other.overlaps(*ring)),
                    "{}",
                    body.name
                );
            }
        }
    }
}

#[test]
fn words_of_a_sheet_lie_on_nothing() {
    for body in sizes() {
        let drawing = sheet_of(&body, &Measure::ALL, &Style::default());
        let items = &drawing.panels[0].items;
        let words: Vec<Rect> = items
            .iter()
            .filter(|item| matches!(item.shape, Shape::Text(_)))
            .filter_map(Item::bounds)
            .collect();
        for (k, one) in words.iter().enumerate() {
            assert!(
                words[..k].iter().all(|other| !other.overlaps(*one)),
                "{}: {one:?}",
                body.name
            );
        }
    }
}

#[test]
fn bodies_that_contradict_themselves_are_drawn_all_the_same() {
    let mut tapes = Vec::new();
    for measure in Measure::ALL {
        for value in [measure.about().least, measure.about().most] {
            tapes.push(Tape::new(format!("{} {value}", measure.key())).with(measure, value));
        }
    }
    for extreme in [|m: Measure| m.about().least, |m: Measure| m.about().most] {
        tapes.push(
            Measure::ALL
                .into_iter()
                .fold(Tape::new("all"), |tape, m| tape.with(m, extreme(m))),
        );
    }
    // Every other measure at its least, the rest at their most, and the other way round.
    for odd in [0, 1] {
        let value = |k: usize, m: Measure| {
            if k % 2 == odd {
                m.about().least
            } else {
                m.about().most
            }
        };
        let all = Measure::ALL.into_iter().enumerate();
        tapes.push(all.fold(Tape::new("by turns"), |tape, (k, m)| {
            tape.with(m, value(k, m))
        }));
    }
    for tape in tapes {
        let drawing = sheet_of(&complete(&tape), &Measure::ALL, &Style::default());
        assert!(svg(&drawing).is_ok(), "{}", tape.name());
    }
}

#[test]
fn the_same_body_gives_the_same_bytes() {
    let drawing = || svg(&sheet_of(&by_bust(937.0), &Measure::ALL, &Style::default()));
    assert_eq!(drawing(), drawing());
}

/// Contrast with white by the formula of WCAG 2.1 (relative luminance of sRGB).
fn contrast_with_white(Colour(r, g, b): Colour) -> f64 {
    let linear = |value: u8| {
        let value = f64::from(value) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            geometry::math::pow((value + 0.055) / 1.055, 2.4)
        }
    };
    1.05 / (0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b) + 0.05)
}

#[test]
fn the_accent_can_be_read() {
    assert!(contrast_with_white(CHALK) >= 4.5);
    assert!(contrast_with_white(Colour::INK) >= 7.0);
}

#[test]
fn the_measure_under_the_hand_has_the_accent() {
    let style = Style {
        under_hand: vec![Measure::Waist],
        ..Style::default()
    };
    let panel = view(
        &by_bust(920.0),
        Side::Front,
        &[Measure::Waist, Measure::Hip],
        &style,
    );
    let colours = |measure: Measure| {
        let of = panel
            .items
            .iter()
            .filter(move |item| item.id.as_deref() == Some(measure.key()));
        of.filter_map(|item| match &item.shape {
            Shape::Path {
                line: Some(line), ..
            } => Some(line.colour),
            _ => None,
        })
        .collect::<Vec<_>>()
    };
    assert!(
        colours(Measure::Waist)
            .iter()
            .all(|colour| *colour == CHALK)
    );
    assert!(
        colours(Measure::Hip)
            .iter()
            .all(|colour| *colour == Colour::INK)
    );
    assert!(!colours(Measure::Waist).is_empty() && !colours(Measure::Hip).is_empty());
    assert!(
        panel
            .bounds()
            .expect("ink")
            .contains(Point::ORIGIN - geometry::Vec2::new(0.0, 10.0))
    );
}
