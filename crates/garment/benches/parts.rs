//! How long all parts of a dress of more than thirty pieces take, with every check: what happens on each change of the shell.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

use body::Body;
use divan::Bencher;
use document::Source;
use garment::{Recipe, Replayed};

fn main() {
    divan::main();
}

/// A dress with a lining, facings, interfacing, pockets, a zip and faced hems; princess seams and a yoke make it many pieces.
const DRESS: &str = r#"garment "Everything" {
    opening "back" closed="invisible-zip"
    ease { bust "60 mm"; waist "30 mm" }
    bodice { bust-dart "side"; neckline "round" depth="30 mm" width="20 mm" }
    sleeve ease="60 mm"
    skirt "gored" gores=12 length="700 mm" sweep="2400 mm"
    facings { neck width="55 mm" }
    lining "open"
    interfacing { behind "neck-facing" }
    pockets { in-seam seam="skirt-side" below-waist="80 mm" opening="150 mm" }
    hems { skirt "faced" depth="50 mm"; sleeve "faced" depth="40 mm" }
    cloths { shell "wool crepe" width="150 cm" thickness="0.57 mm" }
    steps {
        cut from="front.shoulder halfway" through="front.bust-point" to="front.waist-dart" seam="princess"
        cut from="back.armhole at 1/2 from side" to="back.centre at 100 mm from neckline" seam="yoke"
    }
}
"#;

fn recipe(body: &Body) -> Recipe {
    let opened = garment::recipe::open(&Source::new("dress.kdl", DRESS), &mut |_, _| {
        unreachable!("the dress stands on no other garment")
    });
    let opened = opened.unwrap_or_else(|slips| panic!("{slips:#?}"));
    opened
        .recipe(body)
        .unwrap_or_else(|slips| panic!("{slips:#?}"))
}

fn body() -> Body {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/bodies/cellist.kdl"
    );
    let text = std::fs::read_to_string(path).expect("the example is part of the project");
    let tape = body::read(&Source::new("body.kdl", text));
    body::complete(&tape.expect("the example is sound"))
}

/// Parts and checks after a change of the last step's parts: the block and the steps stay as they are.
#[divan::bench]
fn parts_and_checks(bencher: Bencher<'_, '_>) {
    let body = body();
    let recipe = recipe(&body);
    let made = Replayed::new(&recipe, &body).unwrap_or_else(|finding| panic!("{finding:#?}"));
    let pieces = made.garment().pattern.pieces.len();
    assert!(pieces >= 30, "{pieces} pieces");
    bencher.bench(|| {
        let again = Replayed::from(&made, &recipe, &body).expect("it was made before");
        pattern::check::all(&again.garment().pattern)
    });
}

/// The checks alone.
#[divan::bench]
fn checks(bencher: Bencher<'_, '_>) {
    let body = body();
    let pattern = garment::make(&recipe(&body), &body)
        .expect("it can be made")
        .pattern;
    bencher.bench(|| pattern::check::all(&pattern));
}

/// What it takes, for the papers.
#[divan::bench]
fn materials(bencher: Bencher<'_, '_>) {
    let body = body();
    let pattern = garment::make(&recipe(&body), &body)
        .expect("it can be made")
        .pattern;
    bencher.bench(|| pattern::Materials::of(&pattern));
}
