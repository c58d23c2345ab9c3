//! Whole styles are replayed on populations: every body gives a pattern, or a refusal that names the step and says why.
#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use std::sync::Arc;

use body::{Body, Tape};
use document::{Severity, Source};
use garment::recipe::{self, Opened};

fn opened(name: &str) -> Opened {
    let path = format!("{}/../../examples/{name}.kdl", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the examples are part of the project");
    let mut alone = |_: &str, _: &document::Span| -> Result<Arc<Source>, document::Finding> {
        unreachable!("no style here stands on another")
    };
    recipe::open(&Source::new(name, text), &mut alone)
        .unwrap_or_else(|findings| panic!("{findings:#?}"))
}

/// Pieces whose waist a style cuts at a dart.
const WAISTS: [&str; 4] = ["front", "back", "skirt-front", "skirt-back"];

/// A style on one body has no error. A refusal must be for a waist dart that this body's block does not have, or for a sleeve that
/// its armhole does not take.
fn clean(style: &Opened, body: &Body) {
    let recipe = style
        .recipe(body)
        .unwrap_or_else(|findings| panic!("{findings:#?}"));
    match garment::make(&recipe, body) {
        Ok(garment) => {
            let errors: Vec<_> = pattern::check::all(&garment.pattern)
                .into_iter()
                .filter(|finding| finding.severity == Severity::Error)
                .collect();
            assert!(errors.is_empty(), "{}: {errors:#?}", body.name);
        }
        Err(refused) => {
            assert!(!refused.places.is_empty(), "{}: {refused:#?}", body.name);
            if refused.code != "sleeve-wider-than-armhole" {
                assert_eq!(
                    refused.code, "place-not-there",
                    "{}: {refused:#?}",
                    body.name
                );
                assert!(
                    lacks_waist_darts(recipe, body),
                    "{}: {refused:#?}",
                    body.name
                );
            }
        }
    }
}

/// Whether some piece of the block, without the style's steps, has no dart at its waist.
fn lacks_waist_darts(mut recipe: garment::Recipe, body: &Body) -> bool {
    recipe.steps.clear();
    let block = garment::make(&recipe, body).unwrap_or_else(|finding| panic!("{finding:#?}"));
    let dartless = |name: &&str| {
        let piece = block.pattern.piece(name);
        piece.is_some_and(|piece| piece.darts_on("waist").next().is_none())
    };
    WAISTS.iter().any(dartless)
}

fn all_replayed(tapes: impl Iterator<Item = Tape>) {
    let styles = ["princess-bodice", "wrap-dress", "six-gore-skirt"].map(opened);
    for tape in tapes {
        let body = body::complete(&tape);
        for style in &styles {
            clean(style, &body);
        }
    }
}

#[test]
fn styles_on_a_drawn_population() {
    all_replayed(body::population::draw(600, 5));
}

#[test]
fn styles_on_the_survey() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../../shared/data/ansur2_female_tape.csv"
    );
    match std::fs::read_to_string(path) {
        Ok(text) => all_replayed(common::survey(&text).into_iter()),
        Err(_) => {
            common::skipped("styles_on_the_survey: the survey's rows are not beside the project");
        }
    }
}
