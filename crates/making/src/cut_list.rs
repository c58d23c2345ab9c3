//! What to cut: pieces by cloth, bias strips for edges that are finished on their own, and tapes.
//!
//! Knows words and no numbers of its own.

use pattern::Pattern;
use pattern::materials::figures::STRIP_END;
use pattern::materials::{Materials, Strip, TapeNeed, TapePiece};
use sheet::List;

use crate::words::{sentence, spoken};

/// Strips and tapes, under a heading each; none where nothing is.
pub fn strips_and_tapes(materials: &Materials) -> Vec<List> {
    let strips = List {
        title: "Bias strips".to_owned(),
        lines: materials.strips.iter().map(strip).collect(),
    };
    let tapes = materials.tapes.iter().map(|tape| List {
        title: format!("Stay tape, {} mm wide", tape.width),
        lines: tape.pieces.iter().map(piece_of_tape).collect(),
    });
    let lists = std::iter::once(strips).chain(tapes);
    lists.filter(|list| !list.lines.is_empty()).collect()
}

/// "Neckline: 1 bias strip 35 mm wide, 760 mm long".
fn strip(strip: &Strip) -> String {
    let (strips, each) = if strip.count == 1 {
        ("strip", "")
    } else {
        ("strips", " each")
    };
    format!(
        "{}: {} bias {strips} {:.0} mm wide, {:.0} mm long{each}",
        sentence(&spoken(&strip.edge)),
        strip.count,
        strip.width,
        strip.length()
    )
}

/// "Front neckline: 1 piece 412 mm long (cut 34° off grain)".
fn piece_of_tape(tape: &TapePiece) -> String {
    let (pieces, each) = if tape.count == 1 {
        ("piece", "")
    } else {
        ("pieces", " each")
    };
    let why = if tape.why.is_empty() {
        String::new()
    } else {
        format!(" ({})", tape.why)
    };
    format!(
        "{} {}: {} {pieces} {:.0} mm long{each}{why}",
        sentence(&spoken(&tape.piece)),
        spoken(&tape.along),
        tape.count,
        tape.length
    )
}

/// The list as a text.
pub fn text(pattern: &Pattern, materials: &Materials, title: &str) -> String {
    let pieces: String = drawing::cutting_list(pattern).iter().map(part).collect();
    let strips = strips_text(&materials.strips);
    let tapes: String = materials.tapes.iter().map(tape_text).collect();
    format!("{title}\nWhat to cut\n{pieces}{strips}{tapes}")
}

fn part(list: &List) -> String {
    let lines: Vec<String> = list
        .lines
        .iter()
        .map(|line| format!("  {line}\n"))
        .collect();
    format!("\n{}\n{}", list.title, lines.concat())
}

fn strips_text(strips: &[Strip]) -> String {
    if strips.is_empty() {
        return String::new();
    }
    part(&List {
        title: format!(
            "Strips for edges that are finished on their own, cut across the grain at 45°;\n\
             {STRIP_END:.0} mm at each end to join or turn in are counted in"
        ),
        lines: strips.iter().map(strip).collect(),
    })
}

fn tape_text(tape: &TapeNeed) -> String {
    part(&List {
        title: format!(
            "Stay tape {} mm wide, as long as the edge on paper: the edge is laid on the tape, never the tape on the edge",
            tape.width
        ),
        lines: tape.pieces.iter().map(piece_of_tape).collect(),
    })
}
