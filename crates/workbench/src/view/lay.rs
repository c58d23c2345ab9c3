//! A lay as the page shows it: the cloth, every copy where it lies, and what to buy.
//!
//! Sections of a lay lie one after the other along x. Invariant: a copy is drawn by its own cutting line, brought to its place.

use cloth::goods::Cloth;
use cloth::lay::{Lay, Part, Placed, Section, Way};
use geometry::{Affine, BezPath, Point, Rect, Vec2};
use making::draft::Draft;
use making::lays::{Goods, Shown, buy_words, metres, money};
use pattern::{Laid, Pattern, Piece};
use serde::Serialize;

use super::drawn::as_box;
use super::path::{letters, point, rounded};
use super::units::Units;

/// Room between two sections, mm.
const GAP: f64 = 160.0;
/// Room round everything, mm.
const MARGIN: f64 = 60.0;
/// From one mark of the ruler to the next, mm.
const RULER: f64 = 250.0;

/// A lay as JSON.
#[derive(Serialize)]
pub(crate) struct LayView {
    way: &'static str,
    title: &'static str,
    length: f64,
    length_shown: String,
    density_shown: String,
    buy_shown: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost_shown: Option<String>,
    waste_shown: String,
    bounds: Vec<String>,
    words: Vec<String>,
    drawing: LayDrawing,
    order: Vec<String>,
}

#[derive(Serialize)]
struct LayDrawing {
    r#box: [f64; 4],
    cloth: ClothDrawing,
    pieces: Vec<CopyView>,
    ruler: Vec<RulerView>,
}

#[derive(Serialize)]
struct ClothDrawing {
    d: String,
    selvedges: String,
    fold: String,
    stripes: String,
    flaws: String,
}

#[derive(Serialize)]
struct CopyView {
    id: String,
    piece: String,
    copy: usize,
    title: String,
    label: String,
    words: String,
    d: String,
    grain_d: String,
    at: [f64; 2],
    turn: f64,
    mirrored: bool,
    held: bool,
    section: usize,
}

#[derive(Serialize)]
struct RulerView {
    x: f64,
    words: String,
}

/// The view of a lay; `held` are the copies that a person has put where they lie.
pub(crate) fn view(
    draft: &Draft,
    goods: &Goods,
    shown: &Shown,
    held: &[(String, usize)],
    units: Units,
) -> LayView {
    let (lay, answer) = (&shown.lay, &shown.answer);
    let (cloth, pattern) = (goods.cloth.as_laid(), &draft.garment.pattern);
    let down = |mm: f64| format!("{:.2} m", (mm / 10.0).floor() / 100.0);
    LayView {
        way: lay.way.word(),
        title: lay.way.title(),
        length: rounded(lay.length),
        length_shown: match units {
            Units::Metric => metres(lay.length),
            Units::Inch => units.length(lay.length),
        },
        density_shown: format!("{:.0} % of the cloth is used", 100.0 * (1.0 - answer.waste)),
        buy_shown: making::lays::bought(&goods.cloth, shown),
        cost_shown: answer
            .cost
            .zip(goods.cloth.price.as_ref())
            .map(|(cost, price)| money(cost, &price.currency)),
        waste_shown: format!("{:.0} %", 100.0 * answer.waste),
        bounds: vec![
            format!("the area of all pieces takes {}", down(answer.bounds.area)),
            format!("the longest piece takes {}", down(answer.bounds.longest)),
        ],
        words: buy_words(goods, shown),
        drawing: drawing(pattern, &cloth, lay, held, units),
        order: answer
            .order
            .iter()
            .filter_map(|at| lay.copies.get(*at))
            .map(|copy| format!("{}: {}", copy.title, how(copy.part)))
            .collect(),
    }
}

/// Where each section begins on the drawing.
pub(crate) fn offsets(lay: &Lay) -> Vec<Vec2> {
    let mut x = 0.0;
    let sections = lay.sections.iter();
    sections
        .map(|section| {
            let here = Vec2::new(x, 0.0);
            x += section.length + GAP;
            here
        })
        .collect()
}

fn drawing(
    pattern: &Pattern,
    cloth: &Cloth,
    lay: &Lay,
    held: &[(String, usize)],
    units: Units,
) -> LayDrawing {
    let offsets = offsets(lay);
    let at = |section: usize| offsets.get(section).copied().unwrap_or_default();
    let boxes = lay.sections.iter().zip(&offsets);
    let whole = boxes
        .map(|(section, at)| bounds(cloth, section) + *at)
        .reduce(|all, one| all.union(one))
        .unwrap_or_default();
    let copies = lay.copies.iter();
    LayDrawing {
        r#box: as_box(whole.inflate(MARGIN, MARGIN)),
        cloth: ground(cloth, lay, &offsets),
        pieces: copies
            .map(|copy| copy_view(pattern, copy, at(copy.section), held))
            .collect(),
        ruler: ruler(lay, &offsets, units),
    }
}

/// A section with its selvedges.
fn bounds(cloth: &Cloth, section: &Section) -> Rect {
    Rect::new(
        0.0,
        -cloth.selvedge,
        section.length,
        section.width + cloth.selvedge,
    )
}

fn ground(cloth: &Cloth, lay: &Lay, offsets: &[Vec2]) -> ClothDrawing {
    let [mut outline, mut selvedges, mut fold, mut stripes, mut flaws] =
        [(); 5].map(|()| BezPath::new());
    for (section, at) in lay.sections.iter().zip(offsets) {
        let (long, wide) = (section.length, section.width);
        rectangle(&mut outline, bounds(cloth, section) + *at);
        let line = |path: &mut BezPath, from: (f64, f64), to: (f64, f64)| {
            path.move_to(Point::from(from) + *at);
            path.line_to(Point::from(to) + *at);
        };
        let is_folded = section.double > 0.0;
        let folded_along = is_folded && matches!(section.way, Way::Lengthwise | Way::Partly);
        if folded_along {
            line(&mut fold, (0.0, 0.0), (long, 0.0));
        } else {
            line(&mut selvedges, (0.0, 0.0), (long, 0.0));
        }
        line(&mut selvedges, (0.0, wide), (long, wide));
        if is_folded && section.way == Way::Crosswise {
            line(&mut fold, (0.0, 0.0), (0.0, wide));
        }
        if let Some(bars) = cloth.repeats.along {
            for x in places(bars.every, bars.from - section.from, long) {
                line(&mut stripes, (x, 0.0), (x, wide));
            }
        }
        if let Some(bars) = cloth.repeats.across {
            for y in places(bars.every, bars.from - section.edge, wide) {
                line(&mut stripes, (0.0, y), (long, y));
            }
        }
        for flaw in &cloth.flaws {
            let corners = flaw.outline.iter();
            let corners: Vec<Point> = corners
                .map(|corner| *corner - Vec2::new(section.from, section.edge) + *at)
                .collect();
            let here = bounds(cloth, section) + *at;
            if corners.iter().any(|corner| here.contains(*corner)) {
                ring(&mut flaws, &corners);
            }
        }
    }
    let [d, selvedges, fold, stripes, flaws] =
        [outline, selvedges, fold, stripes, flaws].map(|path| letters(&path));
    ClothDrawing {
        d,
        selvedges,
        fold,
        stripes,
        flaws,
    }
}

/// Where something that repeats is met from 0 to an end.
fn places(every: f64, from: f64, to: f64) -> Vec<f64> {
    // What repeats by less than this would only be grey.
    if every < 4.0 {
        return Vec::new();
    }
    let first = from.rem_euclid(every);
    let count = ((to - first) / every).max(-1.0).floor() + 1.0;
    (0..count as usize)
        .map(|number| first + every * number as f64)
        .collect()
}

fn rectangle(path: &mut BezPath, one: Rect) {
    let corners = [
        Point::new(one.x0, one.y0),
        Point::new(one.x1, one.y0),
        Point::new(one.x1, one.y1),
        Point::new(one.x0, one.y1),
    ];
    ring(path, &corners);
}

fn ring(path: &mut BezPath, corners: &[Point]) {
    let Some((first, others)) = corners.split_first() else {
        return;
    };
    path.move_to(*first);
    for corner in others {
        path.line_to(*corner);
    }
    path.close_path();
}

fn copy_view(pattern: &Pattern, copy: &Placed, at: Vec2, held: &[(String, usize)]) -> CopyView {
    let piece = pattern.piece(&copy.piece);
    let into = Affine::translate(-copy.place.to_vec2()) * copy.into;
    let outline = outline(piece, copy, into);
    let is_held = held
        .iter()
        .any(|(piece, number)| *piece == copy.piece && *number == copy.copy);
    CopyView {
        id: format!("{}#{}", copy.piece, copy.copy),
        piece: copy.piece.clone(),
        copy: copy.copy,
        title: copy.title.clone(),
        label: copy.title.clone(),
        words: format!("{}: {}", copy.title, how(copy.part)),
        d: letters(&outline),
        grain_d: piece.map_or_else(String::new, |piece| letters(&grain(piece, &outline, into))),
        at: point(copy.place + at),
        turn: 0.0,
        mirrored: copy.face_down,
        held: is_held,
        section: copy.section,
    }
}

/// The cutting line where it lies, opened out where the piece is laid whole, about the point that is held.
fn outline(piece: Option<&Piece>, copy: &Placed, into: Affine) -> BezPath {
    let cutting = piece.and_then(|piece| Some((piece, piece.cutting_outline().ok()?.to_path())));
    let Some((piece, cutting)) = cutting else {
        let mut path = BezPath::new();
        let corners: Vec<Point> = copy
            .ring
            .iter()
            .map(|one| *one - copy.place.to_vec2())
            .collect();
        ring(&mut path, &corners);
        return path;
    };
    let mut path = into * cutting.clone();
    if let (Part::Whole, Laid::OnFold(name)) = (copy.part, &piece.cut.laid)
        && let Some(edge) = piece.edge(name)
    {
        let mirror = geometry::curve::mirror_in(edge.start(), edge.end());
        path.extend((into * mirror * cutting).iter());
    }
    path
}

/// An arrow along the grain through the middle of the piece.
fn grain(piece: &Piece, outline: &BezPath, into: Affine) -> BezPath {
    let middle = (into * piece.outline_path()).control_box().center();
    let along = geometry::curve::unit(piece.grain);
    let way = (into * along.to_point()) - (into * Point::ORIGIN);
    let bounds = outline.control_box();
    let reach = 0.3 * (bounds.width() * way.x.abs() + bounds.height() * way.y.abs());
    sheet::arrow(middle - way * reach, middle + way * reach)
}

fn ruler(lay: &Lay, offsets: &[Vec2], units: Units) -> Vec<RulerView> {
    let sections = lay.sections.iter().zip(offsets);
    sections
        .flat_map(|(section, at)| {
            let marks = (section.length / RULER).floor() as usize;
            (0..=marks).map(move |mark| {
                let along = RULER * mark as f64;
                RulerView {
                    x: rounded(along + at.x),
                    words: match units {
                        Units::Metric => format!("{:.0} cm", along / 10.0),
                        Units::Inch => units.length(along),
                    },
                }
            })
        })
        .collect()
}

const fn how(part: Part) -> &'static str {
    match part {
        Part::OnFold => "on the fold",
        Part::Both => "a pair, through both layers",
        Part::AsDrawn => "one of a pair, as drawn",
        Part::Mirrored => "one of a pair, paper piece face down",
        Part::Whole => "whole: draw the other half by turning the paper piece over",
        Part::Single => "one",
    }
}
