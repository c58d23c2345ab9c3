//! Answers about cloth: against lengths that can be worked out by hand, and what the demo garments give.

mod common;

use std::fs;
use std::sync::Arc;

use cloth::answers::{Change, LEAST, Trials};
use cloth::goods::Cloth;
use cloth::lay::{Effort, Lay, STRAIGHTENING, Told, Way, Wishes};
use cloth::nest::Continue;
use cloth::verify::garment::{Subject, verify};
use common::{Disk, cloth, examples, shell};
use document::{Finding, Source};
use making::answers::{self, Ask, Doing, Fits, Most, Saved, Why};
use making::draft::{Draft, Wanted, draft_text};
use making::lays::{self, Goods, Laid};
use pattern::{Layer, Pattern};

/// Two straight-sided panels, gathered to the waist: the front whole or on the fold, the back a pair. Edges are all but
/// straight, so that how long a lay is can be worked out.
const SKIRT: &str = "garment \"Gathered skirt\" {\n    date \"2026-11-25\"\n    body \"bodies/skirt.kdl\"\n    skirt \"gathered\" fullness=2 length=\"600 mm\"\n    opening \"back\" closed=\"lapped-zip\"\n}\n";

const QUICK: Trials = Trials {
    evaluations: 40_000,
    seed: 1,
    seeds: 2,
};

/// A garment whose text can be drafted again with changes in it.
struct Garment {
    source: Arc<Source>,
    draft: Draft,
}

impl Garment {
    fn of_text(text: &str) -> Self {
        let name = examples().join("asked.kdl");
        let source = Source::new(name.to_string_lossy(), text);
        let draft = drafted(&source).unwrap_or_else(|findings| panic!("{findings:#?}"));
        Self { source, draft }
    }

    fn demo(name: &str) -> Self {
        let text = fs::read_to_string(examples().join(format!("{name}.kdl")));
        Self::of_text(&text.expect("the examples are there"))
    }

    fn ask<'a>(&'a self, goods: &'a Goods, wishes: &'a Wishes, trials: &'a Trials) -> Ask<'a> {
        Ask {
            source: &self.source,
            bases: &[],
            draft: &self.draft,
            goods,
            wishes,
            trials,
        }
    }

    fn most(&self, goods: &Goods, wishes: &Wishes, trials: &Trials, id: &str) -> Most {
        let number = answers::number(&self.draft.recipe, id).expect("the garment has it");
        let ask = self.ask(goods, wishes, trials);
        let mut hear = |_: &str| Continue::Yes;
        answers::most(&ask, number, (&[], None), &mut drafted, &mut hear).expect("it can be asked")
    }

    fn fits(&self, goods: &Goods, wishes: &Wishes) -> Fits {
        let mut hear = |_: &str| Continue::Yes;
        let ask = self.ask(goods, wishes, &QUICK);
        answers::fits(&ask, &mut drafted, &mut hear).expect("it can be asked")
    }

    fn saved(&self, goods: &Goods, wishes: &Wishes, trials: &Trials) -> Saved {
        let effort = Effort {
            evaluations: Some(trials.evaluations),
            time: None,
            seed: trials.seed,
        };
        let mut go_on = |_: Told<'_>| Continue::Yes;
        let laid = lays::lay_out(&self.draft, goods, wishes, &effort, &[], &mut go_on);
        let mut hear = |_: &str| Continue::Yes;
        let ask = self.ask(goods, wishes, trials);
        answers::saved(&ask, &laid.expect("it can be laid"), &mut hear).expect("it can be asked")
    }
}

fn drafted(source: &Arc<Source>) -> Result<Draft, Vec<Finding>> {
    let wanted = Wanted {
        garment: &source.name,
        body: None,
        even_so: false,
    };
    draft_text(&mut Disk, &wanted, source)
}

fn on_hand(width: f64, length: f64) -> Goods {
    let mut cloth = Cloth::plain("calico", width);
    cloth.length = Some(length);
    shell(cloth)
}

fn ways(ways: &[Way]) -> Wishes {
    Wishes {
        ways: ways.to_vec(),
        ..Wishes::default()
    }
}

/// Whether the verifier finds nothing wrong with a lay.
fn is_proven(pattern: &Pattern, goods: &Goods, lay: &Lay, grain_tolerance: f64) -> bool {
    let subject = Subject {
        pattern,
        layers: &goods.layers,
        cloth: &goods.cloth.as_laid(),
        meetings: &[],
        grain_tolerance,
    };
    verify(&subject, lay) == Ok(())
}

/// Length and width of a cutting line along the grain, which runs down the piece here.
fn size(draft: &Draft, piece: &str) -> [f64; 2] {
    let piece = draft.garment.pattern.piece(piece).expect("there is one");
    assert_eq!(piece.grain.degrees(), 90.0);
    let outline = piece.cutting_outline().expect("it has a cutting line");
    let mut corners = [[f64::MAX; 2], [f64::MIN; 2]];
    for curve in outline.curves() {
        for point in curve.flattened(geometry::Tolerance::DRAWING) {
            for (axis, at) in [point.x, point.y].into_iter().enumerate() {
                corners[0][axis] = corners[0][axis].min(at);
                corners[1][axis] = corners[1][axis].max(at);
            }
        }
    }
    [corners[1][1] - corners[0][1], corners[1][0] - corners[0][0]]
}

/// All panels beside each other: the lay is as long as the longest of them, so the skirt is as long as the cloth less what is
/// turned in above and below.
#[test]
fn beside_each_other_the_most_length_is_that_of_the_cloth() {
    let garment = Garment::of_text(SKIRT);
    let turned_in = size(&garment.draft, "skirt-front")[0] - 600.0;
    let turned_in = turned_in.max(size(&garment.draft, "skirt-back")[0] - 600.0);
    for length in [700.0, 903.0, 1100.0] {
        let goods = on_hand(6000.0, length + STRAIGHTENING);
        let most = garment.most(&goods, &ways(&[Way::Open]), &QUICK, "skirt.length");
        let found = most.found.as_ref().expect("some length fits");
        // Outlines are kept free a tenth of a millimetre beyond the cutting line.
        let by_hand = ((length - turned_in - 0.2) / 5.0).floor() * 5.0;
        assert_eq!(found.value, by_hand, "{:?}", most.probes);
        let missed = most.missed.expect("the next does not fit");
        assert_eq!(missed.value, by_hand + 5.0);
        assert!(matches!(missed.why, Why::Impossible(_)), "{:?}", missed.why);
        assert!(is_proven(
            &found.pattern,
            &goods,
            &found.laid.lays[0].lay,
            0.0
        ));
    }
}

/// On cloth as wide as the front, the back lies behind it: the length is shared between the two.
#[test]
fn behind_each_other_the_panels_share_the_cloth() {
    let garment = Garment::of_text(SKIRT);
    let [front, half] = size(&garment.draft, "skirt-front");
    let [back, wide] = size(&garment.draft, "skirt-back");
    let width = 2.0 * half + 3.0;
    assert!(2.0 * wide + 0.5 < width, "both backs lie in one row");
    assert!(2.0 * half + wide > width, "no back lies beside the front");
    let turned_in = front + back - 2.0 * 600.0;
    let room = 1800.0;
    let goods = on_hand(width, room + STRAIGHTENING);
    let most = garment.most(&goods, &ways(&[Way::Open]), &QUICK, "skirt.length");
    let found = most.found.as_ref().expect("some length fits");
    let by_hand = ((room - turned_in - 0.4) / 2.0 / 5.0).floor() * 5.0;
    // Slanting sides let panels slide into each other a little.
    assert!(
        (by_hand..=by_hand + 10.0).contains(&found.value),
        "{} by hand {by_hand}",
        found.value
    );
    assert!(found.laid.lays[0].lay.length <= room);
}

/// A front that is wider than the cloth fits with a seam at CF, and with less fullness.
#[test]
fn a_front_wider_than_the_cloth_needs_a_seam() {
    let garment = Garment::of_text(SKIRT);
    let [_, half] = size(&garment.draft, "skirt-front");
    let goods = on_hand(2.0 * half - 40.0, 4000.0);
    let fits = garment.fits(&goods, &Wishes::default());
    assert!(fits.yes.is_none());
    let seam = fits.remedies.iter().find(|remedy| {
        matches!(&remedy.doings[..], [Doing::Change(Change::SeamAtFold { piece })] if piece == "skirt-front")
    });
    let seam = seam.expect("a seam at CF makes it fit");
    assert!(is_proven(
        &seam.pattern,
        &goods,
        &seam.laid.lays[0].lay,
        0.0
    ));
    let front = seam
        .pattern
        .piece("skirt-front")
        .expect("it is still there");
    assert_eq!(front.cut.count, 2);
    let less = fits
        .remedies
        .iter()
        .find_map(|remedy| match &remedy.doings[..] {
            [
                Doing::Number {
                    id: "skirt.fullness",
                    to,
                    from,
                    ..
                },
            ] => Some((*from, *to)),
            _ => None,
        });
    let (from, to) = less.expect("less fullness makes it fit");
    assert!(to < from && to >= from * 2.0 / 3.0);
    for remedy in &fits.remedies {
        assert!(remedy.laid.lays[0].lay.length <= fits.room);
    }
}

#[test]
fn what_fits_is_told_with_its_lay_and_nothing_else() {
    let garment = Garment::of_text(SKIRT);
    let goods = on_hand(1500.0, 4000.0);
    let fits = garment.fits(&goods, &Wishes::default());
    let laid = fits.yes.expect("four metres are more than enough");
    assert!(laid.lays[0].lay.length <= fits.room);
    assert!(fits.remedies.is_empty());
    let unknown = shell(Cloth::plain("calico", 1500.0));
    let mut hear = |_: &str| Continue::Yes;
    let wishes = Wishes::default();
    let ask = garment.ask(&unknown, &wishes, &QUICK);
    let refused = answers::fits(&ask, &mut drafted, &mut hear).expect_err("no length is known");
    assert_eq!(refused[0].code, "length-not-known");
}

/// The evenings' story with our own figures: the skirt grows beside the sleeves at no cost up to a fullness, above which the lay
/// becomes longer at once.
#[test]
fn the_concert_skirt_is_as_full_as_it_fits_beside_the_sleeves() {
    let garment = Garment::demo("concert-dress");
    let goods = on_hand(1500.0, 1980.0);
    let open = ways(&[Way::Open]);
    let most = garment.most(&goods, &open, &QUICK, "skirt.fullness");
    let found = most.found.as_ref().expect("it fits");
    assert!((2.2..=2.45).contains(&found.value), "{}", found.value);
    assert!(is_proven(
        &found.pattern,
        &goods,
        &found.laid.lays[0].lay,
        0.0
    ));
    let missed = most.missed.expect("the next does not");
    let Why::TooLong(Some(length)) = missed.why else {
        panic!("{:?}", missed.why)
    };
    // The step below lies in so much less, as soon as it is searched for more than the first lay that suffices.
    let effort = Effort {
        evaluations: Some(4 * QUICK.evaluations),
        time: None,
        seed: 1,
    };
    let taken = drafted(&found.text).expect("it was drafted so");
    let mut go_on = |_: Told<'_>| Continue::Yes;
    let laid = lays::lay_out(&taken, &goods, &open, &effort, &[], &mut go_on);
    let saved = length - laid.expect("it can be laid").lays[0].lay.length;
    assert!(saved > 100.0, "one step less saves {saved:.0} mm");
    assert!(
        found
            .text
            .text
            .contains(&format!("fullness={}", found.value))
    );
}

/// The facing of the concert dress and what is left of a sateen: as it is drawn it does not fit, with a seam it does.
#[test]
fn the_facing_fits_a_narrow_remnant_with_a_seam() {
    let garment = Garment::demo("concert-dress");
    let draft = &garment.draft;
    let facing = draft
        .garment
        .pattern
        .piece("neck-facing")
        .expect("there is one");
    let area = lays::goods(draft);
    let own = area.iter().find(|one| one.layers.contains(&Layer::Facing));
    let mut goods = own.expect("it is cut from sateen").clone();
    assert!(matches!(facing.cut.laid, pattern::Laid::OnFold(_)));
    // Wide enough for the facing opened out but not for twice its half, once a selvedge is on both sides of the fold.
    goods.cloth.width = 330.0;
    goods.cloth.selvedge = 0.0;
    goods.cloth.length = Some(340.0 + STRAIGHTENING);
    let fits = garment.fits(&goods, &Wishes::default());
    assert!(fits.yes.is_none(), "{:?}", fits.yes);
    let pieced = fits.remedies.iter().find(|remedy| {
        matches!(
            &remedy.doings[..],
            [Doing::Change(
                Change::Pieced { .. } | Change::SeamAtFold { .. }
            )]
        )
    });
    let pieced = pieced.expect("a seam makes it fit");
    assert!(is_proven(
        &pieced.pattern,
        &goods,
        &pieced.laid.lays[0].lay,
        0.0
    ));
}

/// Off the fold, a facing no longer takes its length behind the skirt; every saving is proven and more than chance.
#[test]
fn savings_are_proven_and_more_than_chance() {
    for (name, way) in [
        ("concert-dress", Way::Lengthwise),
        ("linen-dress", Way::Open),
    ] {
        let garment = Garment::demo(name);
        let goods = shell(Cloth::plain("calico", 1500.0));
        let saved = garment.saved(&goods, &ways(&[way, Way::Open]), &QUICK);
        assert!(!saved.from.is_empty());
        for from in &saved.from {
            assert!(from.tried > 0 && !from.stopped);
            for one in &from.savings {
                assert!(one.saved >= LEAST && one.saved > one.give_or_take);
                assert_eq!(one.saved, from.without.best.length - one.lay.length);
                assert!(one.saved > from.without.spread);
                let tolerance = one.wishes.grain_tolerance;
                assert!(
                    is_proven(&one.pattern, &goods, &one.lay, tolerance),
                    "{:?}",
                    one.change
                );
            }
            let falls = from
                .savings
                .windows(2)
                .all(|pair| pair[0].saved >= pair[1].saved);
            assert!(falls, "the most comes first");
        }
        let folded = saved
            .from
            .iter()
            .find(|from| from.without.best.way == Way::Lengthwise);
        if let Some(folded) = folded {
            let open = folded
                .savings
                .iter()
                .any(|one| one.change == Change::Way(Way::Open));
            assert!(open, "the concert dress lies shorter on open cloth");
        }
    }
}

/// The same question has the same answer.
#[test]
fn answers_repeat() {
    let garment = Garment::demo("plain-skirt");
    let goods = on_hand(1500.0, 1200.0);
    let ask = || garment.most(&goods, &Wishes::default(), &QUICK, "skirt.length");
    assert_eq!(ask(), ask());
}

/// Who stops is told so, and gets what was found by then.
#[test]
fn it_can_be_stopped() {
    let garment = Garment::demo("plain-skirt");
    let goods = on_hand(1500.0, 1200.0);
    let wishes = Wishes::default();
    let ask = garment.ask(&goods, &wishes, &QUICK);
    let number = answers::number(&garment.draft.recipe, "skirt.length").expect("it has one");
    let mut left = 3;
    let mut hear = |_: &str| {
        left -= 1;
        if left > 0 {
            Continue::Yes
        } else {
            Continue::No
        }
    };
    let most = answers::most(&ask, number, (&[], None), &mut drafted, &mut hear);
    assert!(most.expect("it was asked").stopped);
}

#[test]
fn an_unknown_number_is_answered_by_those_that_there_are() {
    let garment = Garment::demo("plain-skirt");
    let recipe = &garment.draft.recipe;
    for id in ["skirt.lenght", "sleeve.length", "opening", ""] {
        let finding = answers::number(recipe, id).expect_err("there is no such number");
        assert_eq!(finding.code, "number-not-known");
        let allowed = finding.allowed.expect("it says what there is").to_string();
        assert!(allowed.contains("skirt.length") && !allowed.contains("sleeve.length"));
    }
}

/// The demo's remnant, read from its file: its facing has room there whole.
#[test]
fn the_sateen_remnant_takes_the_facing() {
    let garment = Garment::demo("concert-dress");
    let goods = Goods {
        cloth: cloth("cotton-sateen-remnant"),
        layers: vec![Layer::Facing],
    };
    let fits = garment.fits(&goods, &Wishes::default());
    let laid: &Laid = fits.yes.as_ref().expect("it fits");
    assert!(is_proven(
        &garment.draft.garment.pattern,
        &goods,
        &laid.lays[0].lay,
        0.0
    ));
}
