//! How long a garment takes from recipe and body to checked pattern.

use body::Body;
use document::Source;
use garment::Recipe;

fn main() {
    divan::main();
}

fn example(path: &str) -> String {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/");
    std::fs::read_to_string(format!("{root}{path}")).expect("the examples are part of the project")
}

fn recipe(name: &str) -> Recipe {
    garment::recipe::read(&Source::new(name, example(name))).expect("the example reads")
}

fn body_of(name: &str) -> Body {
    body::complete(&body::read(&Source::new(name, example(name))).expect("the example reads"))
}

#[divan::bench(args = [("concert-dress.kdl", "bodies/cellist.kdl"), ("linen-dress.kdl", "bodies/linen.kdl"), ("plain-skirt.kdl", "bodies/skirt.kdl")])]
fn draft_and_check(bencher: divan::Bencher<'_, '_>, (garment, person): (&str, &str)) {
    let (recipe, body) = (recipe(garment), body_of(person));
    bencher.bench(|| {
        let made = garment::make(&recipe, &body).expect("the example can be drafted");
        pattern::check::all(&made.pattern)
    });
}

#[divan::bench]
fn read_and_complete(bencher: divan::Bencher<'_, '_>) {
    let text = example("bodies/cellist.kdl");
    bencher.bench(|| {
        body::complete(&body::read(&Source::new("body", text.clone())).expect("the example reads"))
    });
}
