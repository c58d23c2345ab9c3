//! Speed of steps: a style of forty on the pattern of a dress, and each kind of step alone.

use divan::{Bencher, black_box};
use document::Source;
use pattern::Pattern;
use pattern::step::{Along, Arguments, Place, find};

fn main() {
    divan::main();
}

/// The concert dress with its bust dart at the side, on the cellist who wears it.
fn dress() -> Pattern {
    let read = |path: &str| {
        let path = format!("{}/../../examples/{path}", env!("CARGO_MANIFEST_DIR"));
        Source::new(
            path.clone(),
            std::fs::read_to_string(path).expect("the example is in the repository"),
        )
    };
    let recipe = garment::recipe::read(&read("concert-dress.kdl")).expect("the example is sound");
    let tape = body::read(&read("bodies/cellist.kdl")).expect("the example is sound");
    garment::make(&recipe, &body::complete(&tape))
        .expect("the example can be made")
        .pattern
}

fn on(piece: &str, edge: &str, share: f64) -> Place {
    Place::on_edge(piece, edge, Along::Share(share))
}

fn transfer(edge: &str, share: f64) -> (&'static str, Arguments) {
    let arguments = Arguments::new().named("dart", "front", "bust-dart");
    ("transfer", arguments.at("to", on("front", edge, share)))
}

fn level(step: &'static str, piece: &str, share: f64, by: f64) -> (&'static str, Arguments) {
    (
        step,
        Arguments::new()
            .at("at", on(piece, "side", share))
            .length("by", by),
    )
}

fn shifted(step: &'static str, piece: &str, by: f64) -> (&'static str, Arguments) {
    (
        step,
        Arguments::new()
            .named("edge", piece, "side")
            .length("by", by),
    )
}

/// Ten steps such as a style has; four times over they are forty.
fn ten() -> Vec<(&'static str, Arguments)> {
    let spread = Arguments::new()
        .at("from", on("skirt-front", "hem", 0.5))
        .at("to", on("skirt-front", "waist", 0.5))
        .length("by", 20.0);
    vec![
        transfer("shoulder", 0.5),
        level("lengthen", "back", 0.7, 10.0),
        shifted("widen", "back", 3.0),
        transfer("armhole", 0.5),
        level("lengthen", "skirt-front", 0.6, 15.0),
        level("shorten", "skirt-front", 0.6, 10.0),
        ("spread", spread),
        shifted("narrow", "skirt-back", 2.0),
        level("lengthen", "skirt-back", 0.6, 5.0),
        transfer("neckline", 0.5),
    ]
}

#[divan::bench]
fn forty_steps(bencher: Bencher<'_, '_>) {
    let (start, steps) = (dress(), ten());
    bencher.bench(|| {
        (0..4)
            .flat_map(|_| &steps)
            .fold(start.clone(), |pattern, (name, arguments)| {
                let step = find(name).expect("the step is in the list");
                step.run(black_box(&pattern), arguments)
                    .expect("the style fits the dress")
                    .pattern
            })
    });
}

#[divan::bench(args = 0..10)]
fn one_step(bencher: Bencher<'_, '_>, which: usize) {
    let (start, steps) = (dress(), ten());
    let (name, arguments) = &steps[which];
    let step = find(name).expect("the step is in the list");
    bencher.bench(|| step.run(black_box(&start), arguments).is_ok());
}
