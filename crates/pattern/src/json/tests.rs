use document::{Mend, Quantity, Source, Span};
use geometry::{Affine, Angle, Curve};

use super::*;
use crate::makeup::{Closing, Closure, Hem, HemFinish, Lies};
use crate::piece::{Cut, Dart, Edge, EdgeKind, InnerLine, Laid, Layer, Mark, Piece, Pressed};
use crate::seam::{Fullness, Girth, Seam, Stretch};
use geometry::Point;

/// A square of 100 mm with a dart of 20 mm in its upper edge, on the fold at its left.
fn square() -> Piece {
    let p = Point::new;
    let line = |a, b| Curve::line(a, b);
    let edge = |name: &str, kind, runs, allowance| Edge {
        runs,
        allowance,
        ..Edge::new(name, kind, line(p(0.0, 0.0), p(1.0, 0.0)))
    };
    let top = vec![
        line(p(0.0, 0.0), p(40.0, 0.0)),
        line(p(60.0, 0.0), p(100.0, 0.0)),
    ];
    let side = vec![line(p(100.0, 0.0), p(100.0, 100.0))];
    let hem = vec![line(p(100.0, 100.0), p(0.0, 100.0))];
    let fold = vec![line(p(0.0, 100.0), p(0.0, 0.0))];
    Piece {
        name: "front".into(),
        edges: vec![
            edge("waist", EdgeKind::Seam, top, 15.0),
            edge("side", EdgeKind::Seam, side, 15.0),
            edge("hem", EdgeKind::Hem, hem, 40.0),
            edge("centre", EdgeKind::Fold, fold, 0.0),
        ],
        darts: vec![Dart {
            name: "waist-dart".into(),
            edge: "waist".into(),
            gap: 0,
            point: p(50.0, 50.0),
            aim: p(50.0, 60.0),
            pressed: Pressed::Before,
        }],
        marks: vec![
            Mark::Notch {
                name: "hip".into(),
                edge: "side".into(),
                along: 30.0,
                strokes: 1,
            },
            Mark::Point {
                name: "bust-point".into(),
                at: p(50.0, 60.0),
            },
        ],
        lines: vec![InnerLine {
            name: "hip".into(),
            runs: vec![line(p(0.0, 80.0), p(100.0, 80.0))],
        }],
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: 1,
            laid: Laid::OnFold("centre".into()),
        },
        peaked: Vec::new(),
        asked: None,
    }
}

fn value(pattern: &Pattern, findings: &[Finding]) -> Value {
    let text = pattern_json(pattern, findings, &About::default());
    serde_json::from_str(&text).expect("the file is JSON")
}

fn pattern() -> Pattern {
    Pattern {
        pieces: vec![square()],
        seams: vec![Seam {
            name: "side".into(),
            held: vec![Stretch::forwards("front", "side")],
            worked: vec![Stretch::backwards("front", "waist")],
            fullness: Fullness::Gathered(0.75),
            runs_on: [false, false],
        }],
        girths: vec![Girth {
            level: "hip".into(),
            body: 190.0,
            ease: 10.0,
            parts: vec![("front".into(), "hip".into())],
            gathered: 1.0,
            at_least: false,
        }],
        ..Pattern::default()
    }
}

#[test]
fn a_piece_stands_in_the_file_as_it_is_sewn() {
    let value = value(&pattern(), &[]);
    let piece = &value["pieces"][0];
    assert_eq!(piece["from"], "shell");
    assert_eq!(
        piece["cut"],
        json!({"count": 1, "laid": "fold", "fold_edge": "centre"})
    );
    let waist = &piece["edges"][0];
    assert_eq!(waist["length_mm"], 80.0);
    assert_eq!(
        waist["points_mm"],
        json!([[0.0, 0.0], [40.0, 0.0], [60.0, 0.0], [100.0, 0.0]])
    );
    assert_eq!(waist["runs"], json!([[0, 1], [2, 3]]));
    assert_eq!(piece["darts"][0]["legs"], json!([[40.0, 0.0], [60.0, 0.0]]));
    assert_eq!(piece["darts"][0]["intake_mm"], 20.0);
    // Half of the mouth over the height: 2·atan(10/50).
    assert_eq!(piece["darts"][0]["angle_degrees"], 22.62);
    // Right of an edge that runs down is the inside; the notch is cut from the other side.
    assert_eq!(piece["notches"][0]["at_mm"], json!([100.0, 30.0]));
    assert_eq!(piece["notches"][0]["toward"], json!([1.0, 0.0]));
    assert_eq!(
        piece["points"],
        json!([{"name": "bust-point", "at_mm": [50.0, 60.0]}])
    );
}

#[test]
fn both_sides_of_a_seam_and_the_girths_are_said() {
    let value = value(&pattern(), &[]);
    let seam = &value["seams"][0];
    assert_eq!(seam["held"]["length_mm"], 100.0);
    assert_eq!(
        seam["worked"],
        json!({"length_mm": 80.0, "edges": [{"piece": "front", "edge": "waist", "backwards": true}]})
    );
    assert_eq!(seam["off_mm"], 5.0);
    let girth = &value["girths_mm"][0];
    assert_eq!(
        [&girth["closed"], &girth["ease"], &girth["ease_asked"]],
        [&json!(200.0), &json!(10.0), &json!(10.0)]
    );
    assert_eq!(
        girth["parts"],
        json!([{"piece": "front", "line": "hip", "times": 2}])
    );
}

#[test]
fn findings_keep_their_numbers_and_places() {
    let source = Source::new("dress.kdl", "garment \"Ä\" {\n  skirt\n}\n");
    let span = Span::new(&source, 17, 22);
    let finding = Finding::warning("cap-ease-large", "the cap is long")
        .measured(
            Quantity::mm(40.0),
            document::Allowed::AtMost(Quantity::mm(38.0)),
        )
        .at_text(&span, "here")
        .cure("take less")
        .mend(Mend::value("sleeve", "\"38 mm\"", "eases less in"));
    let value = value(&Pattern::default(), &[finding]);
    assert_eq!(
        value["findings"][0],
        json!({
            "code": "cap-ease-large",
            "severity": "warning",
            "message": "The cap is long.",
            "measured": {"value": 40.0, "unit": "mm"},
            "allowed": {"at_most": {"value": 38.0, "unit": "mm"}},
            "reason": "",
            "cure": "Take less.",
            "mends": [{
                "words": "Eases less in.",
                "changes": [{"kind": "value", "statement": ["sleeve"], "value": "\"38 mm\""}],
            }],
            "places": [
                {"kind": "text", "file": "dress.kdl", "line": 2, "column": 3, "text": "skirt", "label": "here"}
            ],
        })
    );
}

#[test]
fn a_piece_without_a_cutting_line_has_none_in_the_file() {
    let mut pattern = pattern();
    pattern.pieces[0].edges[1].allowance = -5.0;
    assert_eq!(
        value(&pattern, &[])["pieces"][0]["cut_line_mm"],
        Value::Null
    );
}

#[test]
fn what_it_is_made_up_with_stands_in_the_file() {
    let mut pattern = pattern();
    pattern.makeup.lies.push(Lies {
        piece: "front-lining".into(),
        upon: "front".into(),
        placed: Affine::new([0.0, 1.0, -1.0, 0.0, 10.5, -20.0]),
    });
    pattern.makeup.closings.push(Closing {
        closure: Closure::Buttons {
            count: 5,
            diameter: 15.0,
            hole: 18.2,
        },
        along: vec![Stretch::forwards("front", "side")],
        from: 5.0,
        opening: 90.0,
        lap: 40.0,
        length: 0.0,
    });
    pattern.makeup.hems.push(Hem {
        piece: "front".into(),
        edge: "hem".into(),
        finish: HemFinish::Narrow,
        depth: 8.0,
        surplus: 0.0,
        strip: None,
    });
    let makeup = &value(&pattern, &[])["makeup"];
    assert_eq!(
        makeup["lies"],
        json!([{"piece": "front-lining", "upon": "front", "placed": [0.0, 1.0, -1.0, 0.0, 10.5, -20.0]}])
    );
    let closing = &makeup["closings"][0];
    assert_eq!(
        [
            &closing["by"],
            &closing["count"],
            &closing["hole_mm"],
            &closing["along"]["length_mm"]
        ],
        [&json!("buttons"), &json!(5), &json!(18.2), &json!(100.0)]
    );
    assert_eq!(
        makeup["hems"],
        json!([{"piece": "front", "edge": "hem", "finish": "narrow", "depth_mm": 8.0, "surplus_mm": 0.0, "strip": null}])
    );
}

#[test]
fn what_it_takes_stands_in_the_file() {
    let value = value(&pattern(), &[]);
    let materials = &value["materials"];
    let cloth = &materials["cloths"][0];
    assert_eq!(
        [&cloth["name"], &cloth["pieces"]],
        [&json!("shell"), &json!(1)]
    );
    // Nothing is known of the cloth, so neither width nor weight are.
    assert_eq!(
        [&cloth["width_mm"], &cloth["weight_g"]],
        [&Value::Null, &Value::Null]
    );
    let whats: Vec<&Value> = materials["thread"]["rows"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|row| &row["what"])
        .collect();
    assert_eq!(whats, ["seams", "darts", "gathers", "neatening", "felling"]);
    assert_eq!(materials["thread"]["spools"], 1);
}
