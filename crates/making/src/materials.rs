//! What to buy, in words: cloth, tapes, what closes the garment, thread.
//!
//! Knows words and how numbers are rounded for a shop; the numbers themselves come from the pattern. Invariant: nothing is
//! rounded down.

use cloth::lay::STRAIGHTENING;
use pattern::Layer;
use pattern::materials::figures::{SPOOL, WASTE};
use pattern::materials::{
    ClothNeed, Fastening, Materials, Stitching, Strip, TapeNeed, Thread, ThreadRow,
};
use sheet::List;

use crate::lays::{Laid, Shown, bought, metres};
use crate::words::{count, listed, sentence, table, wrapped};

/// How wide the text is, letters.
const WIDTH: usize = 96;

/// The text of `things-to-buy.txt`; lengths of cloth are those of the lays.
pub fn text(materials: &Materials, laid: &[Laid], title: &str) -> String {
    let parts = [
        Some(cloths_text(&materials.cloths, laid)),
        ribbons_text(materials),
        fastenings_text(&materials.fastenings),
        Some(thread_text(&materials.thread)),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    format!("{title}\nThings to buy\n\n{}", parts.join("\n"))
}

/// The same in short, without any lay: cloth by its area.
pub fn list(materials: &Materials) -> List {
    list_laid(materials, &[])
}

/// The same in short, for the cover of the papers; lengths of cloth are those of the lays.
pub fn list_laid(materials: &Materials, laid: &[Laid]) -> List {
    let cloths = materials.cloths.iter().map(|one| cloth(one, laid));
    let tapes = materials.tapes.iter().map(tape);
    let fastenings = materials.fastenings.iter().map(fastening);
    let thread = std::iter::once(thread(&materials.thread));
    List {
        title: "To buy".to_owned(),
        lines: cloths
            .chain(tapes)
            .chain(fastenings)
            .chain(thread)
            .collect(),
    }
}

fn cloths_text(cloths: &[ClothNeed], laid: &[Laid]) -> String {
    let lines: Vec<String> = cloths
        .iter()
        .map(|one| format!("  {}\n", cloth(one, laid)))
        .collect();
    let by_area = "This is the area of the pieces, allowances counted in. Every lay needs more, by what falls away between \
         them: buy after laying the pieces out on the width of your cloth. A lay of this area without any waste would take \
         the length that is given. Wash or steam new cloth before it is cut; it may shrink.";
    let by_lay = format!(
        "The length is that of the shortest lay which a short search found, with {:.0} cm to straighten the ends and, where \
         the cloth's file says how much, what washing takes; it is rounded up. lays.pdf shows how the pieces lie. A longer \
         search, notchbook lay, may find a shorter one. Wash or steam new cloth before it is cut; it may shrink.",
        STRAIGHTENING / 10.0
    );
    let is_laid = cloths.iter().any(|one| shortest(one, laid).is_some());
    let about = wrapped(if is_laid { &by_lay } else { by_area }, WIDTH);
    format!("Cloth\n{}\n{about}\n", lines.concat())
}

/// The shortest lay of a cloth, where there is one.
fn shortest<'a>(cloth: &ClothNeed, laid: &'a [Laid]) -> Option<(&'a Laid, &'a Shown)> {
    let of_cloth = laid.iter().find(|one| one.goods.layers == cloth.layers)?;
    Some((of_cloth, of_cloth.lays.first()?))
}

/// "; folded lengthwise 2.15 m", where that takes more.
fn others(laid: &Laid) -> String {
    let lengths = laid.lays.iter().map(|shown| shown.answer.to_buy);
    let first = lengths.clone().next().flatten();
    let longer = laid
        .lays
        .iter()
        .zip(lengths)
        .filter(|(_, length)| *length > first);
    longer
        .filter_map(|(shown, length)| {
            Some(format!("; {} {}", shown.lay.way.title(), metres(length?)))
        })
        .collect()
}

/// "Wool crepe (shell): 1.90 m of 150 cm width, for 9 pieces laid open, in a single layer"; without a lay "Wool crepe (shell):
/// 2.14 m² in 9 pieces; more than 1.43 m of 150 cm width".
fn cloth(cloth: &ClothNeed, laid: &[Laid]) -> String {
    let layers: Vec<String> = cloth
        .layers
        .iter()
        .map(|one| Layer::word(*one).to_owned())
        .collect();
    let layers = listed(&layers);
    let name = if cloth.name == layers {
        sentence(&cloth.name)
    } else {
        format!("{} ({layers})", sentence(&cloth.name))
    };
    let strips = if cloth.strips > 0.0 {
        " and the bias strips"
    } else {
        ""
    };
    let pieces = count(cloth.pieces as usize, "piece");
    if let Some((of_cloth, shown)) = shortest(cloth, laid) {
        let bought = bought(&of_cloth.goods.cloth, shown);
        let way = shown.lay.way.title();
        let others = others(of_cloth);
        return format!("{name}: {bought}, for {pieces}{strips} laid {way}{others}");
    }
    let length = match (cloth.least_length(), cloth.width) {
        (Some(length), Some(width)) => format!(
            "; more than {:.2} m of {:.0} cm width",
            up(length / 1000.0, 0.01),
            width / 10.0
        ),
        _ => String::new(),
    };
    let area = up((cloth.area + cloth.strips) / 1e6, 0.01);
    format!("{name}: {area:.2} m² in {pieces}{strips}{length}")
}

/// Tape and strips, which some buy ready made.
fn ribbons_text(materials: &Materials) -> Option<String> {
    let tapes = materials
        .tapes
        .iter()
        .map(|one| format!("  {}\n", tape(one)));
    let strips = bias(&materials.strips)
        .into_iter()
        .map(|line| format!("  {line}\n"));
    let lines: Vec<String> = tapes.chain(strips).collect();
    (!lines.is_empty()).then(|| format!("Tape and binding\n{}", lines.concat()))
}

/// "Stay tape 10 mm wide: 1.4 m".
fn tape(tape: &TapeNeed) -> String {
    let metres = up(tape.length() / 1000.0, 0.1);
    format!("Stay tape {} mm wide: {metres:.1} m", tape.width)
}

/// "Bias binding 35 mm wide before it is folded: 1.2 m, if the strips are not cut from the cloth".
fn bias(strips: &[Strip]) -> Vec<String> {
    let mut widths: Vec<f64> = strips.iter().map(|one| one.width).collect();
    widths.sort_by(f64::total_cmp);
    widths.dedup();
    let of_width = |width: f64| {
        let strips = strips.iter().filter(|one| one.width == width);
        let length: f64 = strips.map(|one| one.length() * f64::from(one.count)).sum();
        let metres = up(length / 1000.0, 0.1);
        format!(
            "Bias binding {width:.0} mm wide before it is folded: {metres:.1} m, if the strips are not cut from the cloth"
        )
    };
    widths.into_iter().map(of_width).collect()
}

fn fastenings_text(fastenings: &[Fastening]) -> Option<String> {
    let lines: Vec<String> = fastenings
        .iter()
        .map(|one| format!("  {}\n", fastening(one)))
        .collect();
    (!lines.is_empty()).then(|| format!("To close it\n{}", lines.concat()))
}

/// "1 invisible zip 500 mm long", "7 buttons 15 mm wide".
fn fastening(fastening: &Fastening) -> String {
    let number = fastening.count() as usize;
    match fastening {
        Fastening::Zip {
            invisible, length, ..
        } => {
            let kind = if *invisible { "invisible zip" } else { "zip" };
            format!(
                "{}, {:.0} mm long or longer",
                count(number, kind),
                length.ceil()
            )
        }
        Fastening::Buttons { diameter, .. } => {
            format!("{}, {diameter} mm wide", count(number, "button"))
        }
        Fastening::Hooks { .. } => format!("{} with eyes or bars", count(number, "hook")),
    }
}

fn thread_text(thread: &Thread) -> String {
    let heading = ["", "stitch", "length", "thread"]
        .map(str::to_owned)
        .to_vec();
    let rows: Vec<Vec<String>> = std::iter::once(heading)
        .chain(thread.rows.iter().map(row))
        .collect();
    let table = table(&rows, &[false, false, true, true]);
    let about = wrapped(
        &format!(
            "{} % for waste and thread ends are counted in. A lining of another colour takes its own spool. Basting and \
             trials are not counted.",
            WASTE * 100.0
        ),
        WIDTH,
    );
    format!("Thread\n  {}\n\n{table}\n{about}\n", spools(thread))
}

fn thread(thread: &Thread) -> String {
    format!("Thread: {}", spools(thread))
}

/// "153 m, 2 spools of 100 m".
fn spools(thread: &Thread) -> String {
    let metres = (thread.total() / 1000.0).ceil();
    let spools = count(thread.spools() as usize, "spool");
    format!("{metres:.0} m, {spools} of {:.0} m", SPOOL / 1000.0)
}

fn row(row: &ThreadRow) -> Vec<String> {
    let metres = |mm: f64| format!("{:.1} m", mm / 1000.0);
    let length = if row.length > 0.0 {
        metres(row.length)
    } else {
        String::new()
    };
    vec![
        sewn(row.what).to_owned(),
        row.what.stitch().to_owned(),
        length,
        metres(row.thread),
    ]
}

const fn sewn(what: Stitching) -> &'static str {
    match what {
        Stitching::Seams => "seams",
        Stitching::Darts => "darts",
        Stitching::Layers => "facings and lining to their edges",
        Stitching::Gathers => "rows for gathers",
        Stitching::Staystitching => "staystitching",
        Stitching::Hems => "narrow hems and bindings",
        Stitching::Zips => "zips",
        Stitching::Buttonholes => "buttonholes",
        Stitching::Neatening => "raw edges neatened",
        Stitching::Felling => "hems, bindings and layers felled",
        Stitching::Fastenings => "buttons and hooks sewn on",
    }
}

/// The next whole so many of something.
fn up(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_rounded_down() {
        assert!((up(1.401, 0.01) - 1.41).abs() < 1e-12);
        assert!((up(1.4, 0.1) - 1.4).abs() < 1e-12);
        let zip = Fastening::Zip {
            invisible: true,
            length: 487.2,
            count: 1,
        };
        assert_eq!(fastening(&zip), "1 invisible zip, 488 mm long or longer");
    }

    #[test]
    fn a_cloth_of_several_layers_is_bought_once() {
        let wool = ClothNeed {
            name: "wool crepe".into(),
            layers: vec![Layer::Shell, Layer::Facing],
            width: Some(1500.0),
            pieces: 9,
            area: 2.1e6,
            strips: 3e4,
            weight: Some(500.0),
        };
        assert_eq!(
            cloth(&wool, &[]),
            "Wool crepe (shell and facing): 2.13 m² in 9 pieces and the bias strips; more than 1.42 m of 150 cm width"
        );
    }
}
