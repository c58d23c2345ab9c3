//! What is said about a piece: how it is cut, what it is called, what its allowances are.
//!
//! Knows no places. Invariant: every word is the trade's own.

use document::{inches_eighths, metric};
use geometry::Length;
use pattern::{Cut, Edge, EdgeKind, Laid, Layer, Mark, Pattern, Piece};

/// What the marks of a pattern ask of whoever cuts it, a sentence a line; only of marks that it has.
pub(crate) fn legend(pattern: &Pattern) -> Vec<String> {
    let any = |has: fn(&Piece) -> bool| pattern.pieces.iter().any(has);
    let mut lines = vec![
        "Cut along the solid line and sew along the dashed one.".to_owned(),
        "Lay the double arrow along the lengthwise grain.".to_owned(),
    ];
    if any(|piece| matches!(piece.cut.laid, Laid::OnFold(_))) {
        lines.push(
            "Lay the line of dashes and dots with bent arrows on the fold; never cut there."
                .to_owned(),
        );
    }
    if any(|piece| {
        piece
            .marks
            .iter()
            .any(|mark| matches!(mark, Mark::Notch { .. }))
    }) {
        lines.push(
            "Notches meet notches of the same kind: one stroke at the front, two at the back. Cut no deeper than drawn."
                .to_owned(),
        );
    }
    if any(|piece| !piece.darts.is_empty()) {
        lines.push("Sew each dart along its legs to the circle.".to_owned());
    }
    lines
}

/// The title of a piece; of what does not tell its layer by its name, with the layer: "Side pocket · lining".
pub(crate) fn title(piece: &Piece) -> String {
    let (title, layer) = (piece.title(), piece.cut.layer);
    if layer == Layer::Shell || title.to_lowercase().contains(layer.word()) {
        title
    } else {
        format!("{title} · {}", layer.word())
    }
}

/// How a piece is cut and from what: "cut 2 (a pair) from shell".
pub(crate) fn cut(cut: &Cut) -> String {
    format!("{} from {}", how_often(cut), cut.layer.word())
}

/// "cut 2 (a pair)".
pub fn how_often(cut: &Cut) -> String {
    let count = cut.count;
    match cut.laid {
        Laid::OnFold(_) => format!("cut {count} on the fold"),
        Laid::Pair if count == 2 => "cut 2 (a pair)".to_owned(),
        Laid::Pair if count.is_multiple_of(2) => format!("cut {count} ({} pairs)", count / 2),
        Laid::Pair | Laid::Single => format!("cut {count}"),
    }
}

/// A name for a person: `bust-point` becomes "bust point", `side/upper` becomes "side".
pub fn spoken(name: &str) -> String {
    name.split('/').next().unwrap_or(name).replace('-', " ")
}

/// A length of cloth in millimetres, and in inches where it is plainly so many eighths of one: "15 mm",
/// "15.9 mm (5/8 in)".
pub(crate) fn length(mm: f64) -> String {
    let length = Length::from_mm(mm);
    let eighths = mm / Length::MM_PER_INCH * 8.0;
    let is_whole = (mm - mm.round()).abs() < 0.05;
    if mm > 0.0 && !is_whole && (eighths - eighths.round()).abs() < 0.04 {
        format!("{} ({})", metric(length), inches_eighths(length))
    } else {
        metric(length)
    }
}

/// The allowances of a piece, phrase by phrase: "allowance: 15 mm", "hem 40 mm", "neckline none".
pub(crate) fn allowances(piece: &Piece) -> Vec<String> {
    let cut: Vec<&Edge> = piece
        .edges
        .iter()
        .filter(|edge| edge.kind != EdgeKind::Fold)
        .collect();
    let usual = usual_allowance(&cut);
    let others = unusual_allowances(&cut, usual);
    let first = match (others.is_empty(), same(usual, 0.0)) {
        (true, true) => "no allowance: cut and sew on the same line".to_owned(),
        (true, false) => format!("allowance: {} all round", amount(usual)),
        (false, _) => format!("allowance: {}", amount(usual)),
    };
    std::iter::once(first).chain(others).collect()
}

/// Edges with another allowance than usual, those of one allowance in one phrase: "cap back and cap front 12 mm".
fn unusual_allowances(edges: &[&Edge], usual: f64) -> Vec<String> {
    let mut groups: Vec<(f64, Vec<String>)> = Vec::new();
    for edge in edges.iter().filter(|edge| !same(edge.allowance, usual)) {
        let name = spoken(&edge.name);
        match groups
            .iter_mut()
            .find(|(allowance, _)| same(*allowance, edge.allowance))
        {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => groups.push((edge.allowance, vec![name])),
        }
    }
    let said = |(allowance, names): (f64, Vec<String>)| {
        format!("{} {}", names.join(" and "), amount(allowance))
    };
    groups.into_iter().map(said).collect()
}

/// The allowance along most of the seams; of everything that is cut where there are none.
fn usual_allowance(edges: &[&Edge]) -> f64 {
    let is_seam = |edge: &&&Edge| edge.kind == EdgeKind::Seam;
    let any_seam = edges.iter().any(|edge| is_seam(&edge));
    let counted = || edges.iter().filter(|edge| !any_seam || is_seam(edge));
    let share = |allowance: f64| -> f64 {
        let alike = counted().filter(|edge| same(edge.allowance, allowance));
        alike.map(|edge| edge.length()).sum()
    };
    let mut most = (0.0, 0.0);
    for edge in counted() {
        let along = share(edge.allowance);
        if along > most.1 {
            most = (edge.allowance, along);
        }
    }
    most.0
}

fn amount(allowance: f64) -> String {
    if same(allowance, 0.0) {
        "none".to_owned()
    } else {
        length(allowance)
    }
}

fn same(one: f64, other: f64) -> bool {
    (one - other).abs() < 0.05
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(count: u32, laid: Laid) -> String {
        cut(&Cut {
            layer: Layer::Shell,
            count,
            laid,
        })
    }

    #[test]
    fn says_how_often_to_cut() {
        assert_eq!(
            said(1, Laid::OnFold("centre".into())),
            "cut 1 on the fold from shell"
        );
        assert_eq!(said(2, Laid::Pair), "cut 2 (a pair) from shell");
        assert_eq!(said(4, Laid::Pair), "cut 4 (2 pairs) from shell");
        assert_eq!(said(3, Laid::Single), "cut 3 from shell");
    }

    #[test]
    fn speaks_without_file_marks() {
        assert_eq!(spoken("cap-back/upper"), "cap back");
        assert_eq!(length(15.0), "15 mm");
        assert_eq!(length(12.5), "12.5 mm");
        assert_eq!(length(15.875), "15.9 mm (5/8 in)");
        assert_eq!(length(38.1), "38.1 mm (1 1/2 in)");
    }
}
