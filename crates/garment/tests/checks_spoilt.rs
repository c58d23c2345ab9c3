//! What the draft and the steps forbid is brought about in a pattern, seen by its check, and cleared by a step.

mod common;

use common::spoilt::{Cured, SPOILT, Spoilt};
use common::{body_of_bust, recipe};
use document::mend::Change;
use document::{Finding, Severity};
use garment::{do_step, make};
use geometry::Curve;
use pattern::check::all;
use pattern::{Edge, EdgeKind, Pattern};

/// A pattern of a dress, to be spoilt.
fn dress() -> Pattern {
    let text = "garment \"Dress\" { bodice; sleeve; skirt \"straight\" length=\"600 mm\" }";
    make(&recipe(text), &body_of_bust(900.0))
        .expect("the body is common")
        .pattern
}

fn found(pattern: &Pattern, code: &str) -> Vec<Finding> {
    let findings = all(pattern);
    findings
        .into_iter()
        .filter(|one| one.code == code)
        .collect()
}

/// The pattern with a line of a recipe's steps done on it.
fn stepped(pattern: &Pattern, line: &str) -> Pattern {
    let text = format!("garment \"Dress\" {{ bodice; steps {{ {line} }} }}");
    let recipe = recipe(&text);
    do_step(&recipe.steps[0], pattern)
        .unwrap_or_else(|finding| panic!("{line}\n{finding:#?}"))
        .pattern
}

#[test]
fn the_dress_is_clean_before_it_is_spoilt() {
    let clean: Vec<&str> = all(&dress())
        .iter()
        .filter(|one| one.severity > Severity::Note)
        .map(|one| one.code)
        .collect();
    assert_eq!(clean, [""; 0]);
}

/// Each step that a finding offers clears it; where the layers are derived, so that none can be offered, a step does it on them.
#[test]
fn what_is_spoilt_is_seen_and_mended() {
    for Spoilt {
        code,
        spoil,
        cured_by,
    } in SPOILT
    {
        let mut pattern = dress();
        spoil(&mut pattern);
        let findings = found(&pattern, code);
        assert!(!findings.is_empty(), "{code} is not seen");
        for finding in &findings {
            assert!(!finding.cure.is_empty(), "{code} has words for a cure");
        }
        match cured_by {
            Cured::Offered => {
                let mends = &findings[0].mends;
                assert!(!mends.is_empty(), "{code} has no mend: {:#?}", findings[0]);
                for mend in mends {
                    let [Change::Line { line, .. }] = &mend.changes[..] else {
                        panic!("{code}: a step is one line: {mend:#?}");
                    };
                    let after = stepped(&pattern, line);
                    assert_eq!(found(&after, code), [], "{code}: {line}");
                }
            }
            Cured::By(line) => {
                assert_eq!(found(&stepped(&pattern, line), code), [], "{code}: {line}");
            }
            Cured::Never => assert!(findings[0].mends.is_empty(), "{code}"),
        }
    }
}

/// A slit of 10 mm has room for two allowances of 5 mm (derived), and the mends are those of its piece.
#[test]
fn allowances_shrink_until_they_fit() {
    let corners = [
        (0.0, 0.0),
        (45.0, 0.0),
        (45.0, 80.0),
        (55.0, 80.0),
        (55.0, 0.0),
        (100.0, 0.0),
        (100.0, 190.0),
        (0.0, 190.0),
    ]
    .map(|(x, y)| geometry::Point::new(x, y));
    let slit = |allowance: f64| {
        let mut piece = dress().pieces[0].clone();
        (piece.name, piece.darts, piece.marks, piece.lines) =
            ("slit".into(), Vec::new(), Vec::new(), Vec::new());
        let sides = (0..8).map(|k| Curve::line(corners[k], corners[(k + 1) % 8]));
        piece.edges = (0..8)
            .zip(sides)
            .map(|(k, side)| Edge {
                allowance,
                ..Edge::new(format!("side-{k}"), EdgeKind::Seam, side)
            })
            .collect();
        piece.cut.laid = pattern::Laid::Single;
        Pattern {
            pieces: vec![piece],
            ..Pattern::default()
        }
    };
    let code = "allowance-does-not-fit";
    let trips = |allowance: f64| {
        all(&slit(allowance))
            .into_iter()
            .find(|one| one.code == code)
    };
    let finding = trips(15.0).expect("two allowances of 15 mm do not fit into 10 mm");
    let Some(document::Allowed::AtMost(works)) = finding.allowed else {
        panic!("{finding:#?}");
    };
    assert!((4.7..=5.0).contains(&works.value), "{works}");
    assert_eq!(trips(works.value), None);
    assert_eq!(finding.mends[0].changes.len(), 8);
}
