//! The example styles replayed on every example body: each can be made, and comes out clean.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

use std::fs;
use std::path::{Path, PathBuf};

use body::Body;
use document::{Severity, Source};
use garment::Garment;
use garment::recipe::{Opened, open};

const BODIES: [&str; 3] = ["cellist", "linen", "skirt"];

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples")
}

fn source(path: &Path) -> std::sync::Arc<Source> {
    let text = fs::read_to_string(path);
    let text = text.unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
    Source::new(path.display().to_string(), text)
}

fn style(name: &str) -> Opened {
    let source = source(&examples().join(format!("{name}.kdl")));
    open(&source, &mut |base, _| {
        Ok(self::source(&examples().join(base)))
    })
    .unwrap_or_else(|slips| panic!("{name}: {slips:#?}"))
}

fn person(name: &str) -> Body {
    let source = source(&examples().join(format!("bodies/{name}.kdl")));
    body::complete(&body::read(&source).expect("the example is sound"))
}

/// A style on every example body, with nothing to say against any of them.
fn clean(name: &str) -> Vec<(Body, Garment)> {
    let style = style(name);
    let made = BODIES.map(|who| {
        let body = person(who);
        let recipe = style.recipe(&body);
        let recipe = recipe.unwrap_or_else(|slips| panic!("{name} for {who}: {slips:#?}"));
        let garment = garment::make(&recipe, &body);
        let garment = garment.unwrap_or_else(|why| panic!("{name} for {who}: {why:#?}"));
        let findings = pattern::check::all(&garment.pattern);
        let against: Vec<_> = findings
            .iter()
            .filter(|one| one.severity != Severity::Note)
            .collect();
        assert!(against.is_empty(), "{name} for {who}: {against:#?}");
        (body, garment)
    });
    made.into_iter().collect()
}

/// No dart is left at the bust, and the body has as much room as in the block.
#[test]
fn princess_seams_take_the_darts() {
    for (body, garment) in clean("princess-bodice") {
        let who = &body.name;
        let pattern = &garment.pattern;
        for piece in ["front/centre", "front/side", "back/centre", "back/side"] {
            assert!(pattern.piece(piece).is_some(), "{who}: there is no {piece}");
        }
        let darts = |piece: &str| pattern.piece(piece).map_or(0, |piece| piece.darts.len());
        assert_eq!(darts("front/centre") + darts("back/centre"), 0, "{who}");
        for girth in &pattern.girths {
            let block = garment.replays[0].before.girth(girth);
            let now = pattern.girth(girth);
            // The seam runs smoothly past the ends of the darts and takes a little along.
            assert!(
                (now - block).abs() < 3.0,
                "{who}, {}: {block} became {now}",
                girth.level
            );
        }
    }
}

/// Six gores: two pieces in front and back, the middle ones whole across the centre or with a seam, each as wide at the hem
/// as asked for.
#[test]
fn six_gores_are_flared_and_fit_the_waistband() {
    for (body, garment) in clean("six-gore-skirt") {
        let pattern = &garment.pattern;
        let who = &body.name;
        let gores = pattern
            .pieces
            .iter()
            .filter(|piece| piece.name.starts_with("skirt-"));
        assert_eq!(gores.clone().count(), 4, "{who}");
        // The gore seam takes one dart; another one of the waist, where the body needs it, is sewn in the side gore.
        let mut middle = gores.clone().filter(|gore| gore.name.ends_with("centre"));
        assert!(middle.all(|gore| gore.darts.is_empty()), "{who}");
        assert!(gores.clone().all(|gore| gore.darts.len() <= 1), "{who}");
        let block = &garment.replays[0].before;
        let hem = |pattern: &pattern::Pattern, piece: &str| -> f64 {
            let pieces = pattern.pieces_of(piece);
            pieces
                .flat_map(|piece| piece.edges_of("hem"))
                .map(pattern::Edge::length)
                .sum()
        };
        for piece in ["skirt-front", "skirt-back"] {
            let wider = hem(pattern, piece) - hem(block, piece);
            let asked = body.mm(body::Measure::Hip) / 12.0;
            assert!(
                (wider - asked).abs() < 1.0,
                "{who}, {piece}: {wider} is not {asked}"
            );
        }
    }
}

/// The fronts lap over the centre by twice the same width, in bodice and skirt, and the neckline runs to the waist.
#[test]
fn a_wrap_laps_over_the_centre() {
    for (body, garment) in clean("wrap-dress") {
        let who = &body.name;
        let wide = body.mm(body::Measure::Bust) / 10.0;
        for piece in ["front", "skirt-front"] {
            let piece = garment.pattern.piece(piece).expect("it is not cut");
            assert_eq!(piece.cut.laid, pattern::Laid::Pair, "{who}, {}", piece.name);
            let centre = piece.edge("centre").expect("its edge keeps its name");
            let block = garment.replays[0].before.piece(&piece.name);
            let drafted = block.and_then(|piece| piece.edge("centre"));
            let drafted = drafted.expect("the block has a centre");
            let lapped = (centre.start().x - drafted.start().x).abs();
            assert!(
                (lapped - wide).abs() < 0.01,
                "{who}, {}: {lapped}",
                piece.name
            );
        }
        let front = garment.pattern.piece("front").expect("it is there");
        let neckline = front.edge("wrap-neckline").expect("the step made it");
        let (top, foot) = (neckline.end(), neckline.start());
        let (chord, length) = ((top - foot).hypot(), neckline.length());
        assert!(
            length - chord < 0.5,
            "{who}: the edge of the wrap is straight"
        );
    }
}
