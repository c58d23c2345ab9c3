//! How long all checks of a lined dress with sleeves take, each of them, and the whole change: parts derived and checked anew.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

use body::{Body, Measure, Tape};
use divan::Bencher;
use document::Source;
use garment::{Recipe, Replayed};
use pattern::Pattern;
use pattern::check::{CHECKS, all};

fn main() {
    divan::main();
}

/// As many pieces as a dress has that is lined and closed at the back.
const DRESS: &str = "garment \"Dress\" {
    bodice { bust-dart \"shoulder\"; neckline \"round\" depth=\"25 mm\" width=\"20 mm\" back-depth=\"10 mm\" }
    sleeve
    skirt \"a-line\" length=\"650 mm\"
    lining \"bagged\"
    steps {
        cut from=\"front.bust-dart\" through=\"front.bust-point\" to=\"front.waist-dart\" seam=\"princess-front\"
        cut from=\"back.shoulder halfway\" to=\"back.waist-dart\" bow=\"8 mm\" seam=\"princess-back\"
    }
}";

fn recipe() -> Recipe {
    garment::recipe::read(&Source::new("dress.kdl", DRESS)).expect("the recipe is sound")
}

fn body() -> Body {
    body::complete(&Tape::new("Nobody").with(Measure::Bust, 920.0))
}

fn pattern() -> Pattern {
    let replayed = Replayed::new(&recipe(), &body()).expect("the dress can be drafted");
    replayed.garment().pattern
}

#[divan::bench]
fn all_checks(bencher: Bencher<'_, '_>) {
    let pattern = pattern();
    bencher.bench(|| all(&pattern));
}

#[divan::bench(args = CHECKS.map(|check| check.title))]
fn one_check(bencher: Bencher<'_, '_>, title: &str) {
    let pattern = pattern();
    let check = CHECKS.into_iter().find(|check| check.title == title);
    let check = check.expect("titles are those of the checks");
    bencher.bench(|| check.findings(&pattern));
}

/// What follows a change behind the last step: parts and checks, no draft.
#[divan::bench]
fn parts_and_checks(bencher: Bencher<'_, '_>) {
    let (recipe, body) = (recipe(), body());
    let first = Replayed::new(&recipe, &body).expect("the dress can be drafted");
    bencher.bench(|| {
        let again = Replayed::from(&first, &recipe, &body).expect("the dress can be drafted");
        all(&again.garment().pattern)
    });
}
