//! What to cut: pieces by cloth, and bias strips for edges that are finished on their own.
//!
//! Knows the pattern and no body. Invariant: strips are as long as their edges as sewn, all round the body.

use pattern::{Edge, EdgeKind, Layer, Pattern, Piece};

/// Width of a bias strip, mm: a seam of 10 mm, 15 mm to be seen inside, 10 mm turned under; common practice, no source.
const STRIP_WIDTH: f64 = 35.0;
/// What a strip is longer at each end, to be joined or turned in, mm; common practice, no source.
const STRIP_END: f64 = 20.0;
/// Strips are cut to whole so many mm.
const STRIP_STEP: f64 = 5.0;

/// A bias strip for an edge that is finished on its own.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Strip {
    /// The edge: "neckline", "armhole".
    pub(crate) edge: String,
    /// How many are cut.
    pub(crate) count: u32,
    /// Length of the edge that one strip goes along, mm.
    pub(crate) along: f64,
}

impl Strip {
    /// Length to cut, mm.
    fn length(&self) -> f64 {
        ((self.along + 2.0 * STRIP_END) / STRIP_STEP).ceil() * STRIP_STEP
    }

    /// "Neckline: 1 bias strip 35 mm wide, 760 mm long".
    pub(crate) fn line(&self) -> String {
        let mut edge = self.edge.clone();
        if let Some(first) = edge.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        let (strips, each) = if self.count == 1 {
            ("strip", "")
        } else {
            ("strips", " each")
        };
        format!(
            "{edge}: {} bias {strips} {STRIP_WIDTH:.0} mm wide, {:.0} mm long{each}",
            self.count,
            self.length()
        )
    }
}

/// The strips of a pattern: one for edges that cross the middle of the body, two for those that lie on both sides of it.
pub(crate) fn strips(pattern: &Pattern) -> Vec<Strip> {
    let mut strips: Vec<Strip> = Vec::new();
    let shell = |piece: &&Piece| piece.cut.layer == Layer::Shell;
    for piece in pattern.pieces.iter().filter(shell) {
        for (index, edge) in piece.edges.iter().enumerate() {
            if edge.kind == EdgeKind::Finished {
                add(&mut strips, piece, edge, meets_centre(piece, index));
            }
        }
    }
    for strip in &mut strips {
        strip.along /= f64::from(strip.count);
    }
    strips
}

fn add(strips: &mut Vec<Strip>, piece: &Piece, edge: &Edge, meets_centre: bool) {
    let name = edge
        .name
        .split('/')
        .next()
        .unwrap_or_default()
        .replace('-', " ");
    let along = edge.length() * piece.halves();
    let at = strips
        .iter()
        .position(|one| one.edge == name)
        .unwrap_or_else(|| {
            let count = if piece.halves() == 1.0 { 1 } else { 2 };
            strips.push(Strip {
                edge: name,
                count,
                along: 0.0,
            });
            strips.len() - 1
        });
    strips[at].along += along;
    if meets_centre {
        strips[at].count = 1;
    }
}

/// Whether an edge starts or ends at the middle of the body.
fn meets_centre(piece: &Piece, index: usize) -> bool {
    let count = piece.edges.len();
    let beside = [
        &piece.edges[(index + 1) % count],
        &piece.edges[(index + count - 1) % count],
    ];
    let is_centre = |edge: &Edge| {
        matches!(edge.kind, EdgeKind::Fold | EdgeKind::Opening) || edge.answers_to("centre")
    };
    beside.into_iter().any(is_centre)
}

/// The list as a text.
pub(crate) fn text(pattern: &Pattern, title: &str) -> String {
    let layers = [
        Layer::Shell,
        Layer::Lining,
        Layer::Facing,
        Layer::Interfacing,
    ];
    let pieces: String = layers.map(|layer| pieces_of(pattern, layer)).concat();
    let strips = strips_text(&strips(pattern));
    format!("{title}\nWhat to cut\n{pieces}{strips}")
}

/// What is cut from one cloth, under its heading; nothing where nothing is.
fn pieces_of(pattern: &Pattern, layer: Layer) -> String {
    let from_which = format!(", {}", layer.word());
    let lines: Vec<String> = drawing::cutting_list(pattern)
        .iter()
        .zip(&pattern.pieces)
        .filter(|(_, piece)| piece.cut.layer == layer)
        .map(|(line, _)| format!("  {}\n", line.strip_suffix(&from_which).unwrap_or(line)))
        .collect();
    if lines.is_empty() {
        return String::new();
    }
    format!("\n{}\n{}", heading(layer), lines.concat())
}

fn strips_text(strips: &[Strip]) -> String {
    if strips.is_empty() {
        return String::new();
    }
    let lines: Vec<String> = strips
        .iter()
        .map(|strip| format!("  {}\n", strip.line()))
        .collect();
    format!(
        "\nStrips for edges that are finished on their own, cut across the grain at 45°;\n\
         {STRIP_END:.0} mm at each end to join or turn in are counted in\n{}",
        lines.concat()
    )
}

const fn heading(layer: Layer) -> &'static str {
    match layer {
        Layer::Shell => "From the cloth of the outside (shell)",
        Layer::Lining => "From the lining",
        Layer::Facing => "From the cloth of the facings",
        Layer::Interfacing => "From the interfacing",
    }
}
