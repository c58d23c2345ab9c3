//! How long it takes to read a recipe of forty steps, to replay it whole, and from one step that changed.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

use body::Body;
use divan::Bencher;
use document::Source;
use garment::recipe::{Opened, open};
use garment::{Recipe, Replayed};

fn main() {
    divan::main();
}

/// Ten steps such as a style has; four times over they are forty.
const TEN: [&str; 10] = [
    "transfer dart=\"front.bust-dart\" to=\"front.shoulder halfway\"",
    "lengthen at=\"front.side at 60 mm from waist, back.side at 60 mm from waist\" by=\"waist-to-hip / 20\"",
    "widen edge=\"front.side, back.side\" by=\"3 mm\"",
    "transfer dart=\"front.bust-dart\" to=\"front.armhole at 40 %\"",
    "flare hem=\"skirt-front.hem\" from=\"skirt-front.waist\" by=\"20 mm\"",
    "flare hem=\"skirt-back.hem\" from=\"skirt-back.waist\" by=\"20 mm\"",
    "narrow edge=\"front.side, back.side\" by=\"3 mm\"",
    "shorten at=\"front.side at 60 mm from waist, back.side at 60 mm from waist\" by=\"waist-to-hip / 20\"",
    "lengthen at=\"sleeve.underarm-front halfway\" by=\"5 mm\"",
    "transfer dart=\"front.bust-dart\" to=\"front.side at 40 mm from armhole\"",
];

/// The concert dress with forty steps, the last of them with this amount.
fn text(last: &str) -> String {
    let dress = example("concert-dress.kdl");
    let (dress, _) = dress.rsplit_once('}').expect("a garment ends with a brace");
    let mut steps: Vec<&str> = TEN.iter().copied().cycle().take(40).collect();
    steps[39] = last;
    format!("{dress}\n steps {{\n{}\n}}\n}}", steps.join("\n"))
}

fn example(path: &str) -> String {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/");
    std::fs::read_to_string(format!("{root}{path}")).expect("the examples are part of the project")
}

fn opened(last: &str) -> Opened {
    open(&Source::new("dress.kdl", text(last)), &mut |_, _| {
        unreachable!("the dress stands on no other garment")
    })
    .expect("the example is sound")
}

fn body() -> Body {
    let tape = body::read(&Source::new("body.kdl", example("bodies/cellist.kdl")));
    body::complete(&tape.expect("the example is sound"))
}

fn recipe(last: &str) -> Recipe {
    opened(last).recipe(&body()).expect("the example is sound")
}

#[divan::bench]
fn read_forty_steps(bencher: Bencher<'_, '_>) {
    let (opened, body) = (opened(TEN[9]), body());
    bencher.bench(|| opened.recipe(&body).expect("the example is sound"));
}

#[divan::bench]
fn replay_forty_steps(bencher: Bencher<'_, '_>) {
    let (recipe, body) = (recipe(TEN[9]), body());
    bencher.bench(|| Replayed::new(&recipe, &body).expect("the style can be done"));
}

#[divan::bench]
fn replay_one_changed_of_forty(bencher: Bencher<'_, '_>) {
    let (first, body) = (recipe(TEN[9]), body());
    let changed =
        recipe("transfer dart=\"front.bust-dart\" to=\"front.side at 45 mm from armhole\"");
    let first = Replayed::new(&first, &body).expect("the style can be done");
    assert_eq!(first.kept(&changed).len(), 39);
    bencher.bench(|| Replayed::from(&first, &changed, &body).expect("the style can be done"));
}
