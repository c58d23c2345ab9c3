//! Bagged linings against facings whose outer edge is drawn here, whoever draws them in a garment.

use body::{Body, Measure, Tape};
use document::Source;
use geometry::{Affine, Curve, Knot, Point, Vec2};
use pattern::{
    Cut, Edge, EdgeKind, Fullness, Laid, Layer, Lies, Pattern, Piece, Seam, Stretch, check,
};

use super::*;
use crate::recipe::Recipe;

fn asked(lining: &str) -> (Recipe, Body) {
    let text = format!(
        "garment \"Lined\" {{ ease {{ bust \"60 mm\"; waist \"40 mm\" }}
         bodice {{ bust-dart \"side\"; neckline \"round\" depth=\"30 mm\" width=\"20 mm\" back-depth=\"10 mm\" }}
         skirt \"a-line\" length=\"640 mm\"\n {lining}\n }}"
    );
    let recipe = crate::recipe::read(&Source::new("test.kdl", text.as_str()));
    let body = body::complete(&Tape::new("test").with(Measure::Bust, 920.0));
    (recipe.expect("the recipe is sound"), body)
}

/// A facing of a width behind the neckline of a piece, cut smaller at its ends by so much.
fn neck_facing(shell: &Piece, width: f64, less: f64) -> Piece {
    let index = shell.edge_index("neckline").expect("it has a neckline");
    let count = shell.edges.len();
    let (before, neck, after) = (
        &shell.edges[(index + count - 1) % count],
        &shell.edges[index],
        &shell.edges[(index + 1) % count],
    );
    let start = before.runs[before.runs.len() - 1].reversed();
    let end = &after.runs[0];
    let (from, to) = (start.point_at(width), end.point_at(width));
    let (into, out) = (neck.start_direction(), neck.end_direction());
    let outer = Curve::smooth(&[Knot::toward(to, -out), Knot::toward(from, -into)])
        .expect("two points apart");
    let outer = outer.stretch(less, outer.length() - less);
    let ends = [outer.start(), outer.end()];
    let line =
        |name: &str, from: Point, to: Point| Edge::new(name, EdgeKind::Seam, Curve::line(from, to));
    Piece {
        name: format!("{}-neck-facing", shell.name),
        edges: vec![
            neck.clone(),
            line(&after.name, neck.end(), ends[0]),
            Edge::new("outer", EdgeKind::Finished, outer),
            line(&before.name, ends[1], neck.start()),
        ],
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        cut: Cut {
            layer: Layer::Facing,
            count: 1,
            laid: Laid::Pair,
        },
        ..shell.clone()
    }
}

/// A dress with neck facings, bagged.
fn bagged(lining: &str, less: f64) -> (Pattern, Result<(), Finding>) {
    let (plain, body) = asked("");
    let mut pattern = crate::make(&plain, &body).expect("a plain dress").pattern;
    for name in ["front", "back"] {
        let facing = neck_facing(pattern.piece(name).expect("a bodice"), 55.0, less);
        pattern.makeup.lies.push(Lies {
            piece: facing.name.clone(),
            upon: name.into(),
            placed: Affine::translate(Vec2::new(-700.0, 0.0)),
        });
        pattern.makeup.mates.push(Seam {
            name: facing.name.clone(),
            held: vec![Stretch::forwards(name, "neckline")],
            worked: vec![Stretch::forwards(&facing.name, "neckline")],
            fullness: Fullness::None,
            runs_on: [false, false],
        });
        let mut facing = facing;
        for edge in &mut facing.edges {
            for run in &mut edge.runs {
                *run = run.transformed(Affine::translate(Vec2::new(700.0, 0.0)));
            }
        }
        pattern.pieces.push(facing);
    }
    let (recipe, body) = asked(lining);
    let done = derive(
        &mut pattern,
        &Asked {
            recipe: &recipe,
            body: &body,
        },
    );
    (pattern, done)
}

#[test]
fn a_bagged_lining_ends_at_the_facing() {
    for less in [0.0, 0.6] {
        let (pattern, done) = bagged("lining \"bagged\"", less);
        done.expect("it can be bagged");
        let unclean: Vec<_> = check::all(&pattern)
            .into_iter()
            .filter(|finding| finding.severity > document::Severity::Note)
            .collect();
        assert!(unclean.is_empty(), "{unclean:#?}");
        for name in ["front", "back"] {
            let lining = pattern
                .piece(&format!("{name}-lining"))
                .expect("it is lined");
            assert!(lining.edge("neckline").is_none(), "the facing has it");
            let shell = pattern.piece(name).expect("it is there");
            let facing = pattern
                .piece(&format!("{name}-neck-facing"))
                .expect("it is faced");
            let sum = lining.area() + facing.area();
            assert!(
                (sum - shell.area()).abs() < 3.0 * facing.edges[2].length(),
                "{name}"
            );
            let mate = pattern
                .makeup
                .mates
                .iter()
                .find(|mate| mate.held[0].edge == "outer");
            let mate = mate.expect("the facing is sewn to the lining");
            assert_eq!(mate.worked[0].edge, "neck-facing");
        }
        let shoulder = pattern
            .seams
            .iter()
            .find(|seam| seam.name == "lining-shoulder");
        assert!(shoulder.is_some(), "what is left of the shoulders is sewn");
    }
}

#[test]
fn a_pleat_is_laid_into_the_facing() {
    let (pattern, done) = bagged("lining \"bagged\" { pleat \"20 mm\" }", 0.0);
    done.expect("it can be bagged");
    let mate = pattern
        .makeup
        .mates
        .iter()
        .find(|mate| mate.held[0].piece == "back-neck-facing");
    let more = match mate.expect("the back is faced").fullness {
        Fullness::Pleated(more) => more,
        other => panic!("{other:?}"),
    };
    assert!((more - 10.0).abs() < 0.2, "{more}");
}

#[test]
fn other_ways_keep_the_neckline() {
    for way in ["open", "mounted"] {
        let (pattern, done) = bagged(&format!("lining \"{way}\""), 0.0);
        done.expect("it can be lined");
        let lining = pattern.piece("front-lining").expect("it is lined");
        assert!(lining.edge("neckline").is_some());
    }
}
