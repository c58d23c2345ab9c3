use geometry::{Affine, Angle, Curve, Point};

use super::figures::{SPOOL, STRIP_WIDTH, lockstitch};
use super::*;
use crate::makeup::{
    Closing, Closure, Cloth, Fraying, HandSewn, Hem, HemFinish, Lies, Lined, LiningWay, Stay,
    Stayed,
};
use crate::piece::{Cut, Edge, EdgeKind, Layer};
use crate::seam::{Fullness, Seam, Stretch};

/// A rectangle whose edges run clockwise from the upper left corner: top, right, bottom, left.
fn rectangle(
    name: &str,
    [width, height]: [f64; 2],
    kinds: [(&str, EdgeKind, f64); 4],
    cut: Cut,
) -> Piece {
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)].map(Point::from);
    let edges = (0..4).map(|side| {
        let (name, kind, allowance) = kinds[side];
        let run = Curve::line(corners[side], corners[(side + 1) % 4]);
        Edge {
            allowance,
            ..Edge::new(name, kind, run)
        }
    });
    Piece {
        name: name.into(),
        edges: edges.collect(),
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        grain: Angle::from_degrees(90.0),
        cut,
        peaked: Vec::new(),
        asked: None,
    }
}

fn cut(layer: Layer, count: u32, laid: Laid) -> Cut {
    Cut { layer, count, laid }
}

fn on_fold(layer: Layer) -> Cut {
    cut(layer, 1, Laid::OnFold("centre".into()))
}

/// A front on the fold and a pair of backs, 200 × 400 mm, joined at the side; its top is bound, its bottom turned up.
fn tube() -> Pattern {
    let kinds = |centre| {
        [
            ("neckline", EdgeKind::Finished, 10.0),
            ("side", EdgeKind::Seam, 15.0),
            ("hem", EdgeKind::Hem, 40.0),
            (
                "centre",
                centre,
                if centre == EdgeKind::Fold { 0.0 } else { 15.0 },
            ),
        ]
    };
    let size = [200.0, 400.0];
    let pair = cut(Layer::Shell, 2, Laid::Pair);
    let mut pattern = Pattern {
        pieces: vec![
            rectangle("front", size, kinds(EdgeKind::Fold), on_fold(Layer::Shell)),
            rectangle("back", size, kinds(EdgeKind::Seam), pair),
        ],
        seams: vec![seam("side", ["front", "side"], ["back", "side"])],
        ..Pattern::default()
    };
    pattern.makeup.cloths = vec![cloth(Layer::Shell, "wool"), cloth(Layer::Facing, "wool")];
    pattern
}

fn seam(name: &str, held: [&str; 2], worked: [&str; 2]) -> Seam {
    Seam {
        name: name.into(),
        held: vec![Stretch::forwards(held[0], held[1])],
        worked: vec![Stretch::forwards(worked[0], worked[1])],
        fullness: Fullness::None,
        runs_on: [false; 2],
    }
}

fn cloth(layer: Layer, name: &str) -> Cloth {
    Cloth {
        layer,
        name: name.into(),
        width: 1500.0,
        thickness: 0.5,
        weight: 200.0,
        frays: Fraying::Some,
    }
}

fn row(materials: &Materials, what: Stitching) -> f64 {
    let mut rows = materials.thread.rows.iter();
    rows.find(|row| row.what == what)
        .map_or(0.0, |row| row.length)
}

#[test]
fn cloth_is_counted_for_the_whole_garment() {
    let materials = Materials::of(&tube());
    let wool = &materials.cloths[0];
    // Front half 200 + 15 by 10 + 400 + 40, twice; backs 200 + 2 · 15 wide.
    let pieces = 2.0 * (215.0 * 450.0) + 2.0 * (230.0 * 450.0);
    assert!((wool.area - pieces).abs() < 1.0, "{}", wool.area);
    assert_eq!((wool.pieces, &wool.layers[..]), (3, &[Layer::Shell][..]));
    // One strip round the neckline of 800 mm and 40 mm for its ends.
    assert_eq!(materials.strips[0].length(), 840.0);
    assert!((wool.strips - 840.0 * STRIP_WIDTH).abs() < 1e-9);
    assert!(
        (wool.weight.expect("the cloth is known") - (pieces + wool.strips) * 2e-4).abs() < 1e-3
    );
}

#[test]
fn seams_are_sewn_left_and_right_and_the_back_seam_once() {
    let materials = Materials::of(&tube());
    // Two sides and the back seam, which no seam of the list names.
    assert!((row(&materials, Stitching::Seams) - 3.0 * 400.0).abs() < 1e-9);
    // Raw edges: two sides of each of the three seams.
    assert!((row(&materials, Stitching::Neatening) - 6.0 * 400.0).abs() < 1e-9);
    // The hem and the binding are felled, all round.
    assert!((row(&materials, Stitching::Felling) - 1600.0).abs() < 1e-9);
}

#[test]
fn a_seam_that_is_its_own_mirror_image_is_sewn_once() {
    let mut pattern = tube();
    pattern
        .seams
        .push(seam("back", ["back", "centre"], ["back", "centre"]));
    let named = Materials::of(&pattern);
    assert_eq!(named.thread, Materials::of(&tube()).thread);
}

/// The tube with a piece of a layer behind the upper edge of each of its pieces.
fn with_layer(layer: Layer, word: &str) -> Pattern {
    let mut pattern = tube();
    let mut behind = Vec::new();
    for piece in &mut pattern.pieces {
        piece.edges[0].kind = EdgeKind::Seam;
        let name = crate::name::derived(&piece.name, word);
        let kinds = [
            ("neckline", EdgeKind::Seam, 10.0),
            ("side", EdgeKind::Seam, 15.0),
            ("outer", EdgeKind::Finished, 5.0),
            ("centre", EdgeKind::Fold, 0.0),
        ];
        let of_layer = Cut {
            layer,
            ..piece.cut.clone()
        };
        behind.push(rectangle(&name, [200.0, 50.0], kinds, of_layer));
        let mate = seam(&name, [&piece.name, "neckline"], [&name, "neckline"]);
        pattern.makeup.mates.push(mate);
        pattern.makeup.lies.push(Lies {
            piece: name,
            upon: piece.name.clone(),
            placed: Affine::IDENTITY,
        });
    }
    pattern.pieces.extend(behind);
    pattern
}

#[test]
fn a_faced_edge_needs_no_strip_and_one_seam() {
    let mut pattern = with_layer(Layer::Facing, "neck-facing");
    let sides = ["front-neck-facing", "back-neck-facing"].map(|name| [name, "side"]);
    pattern
        .seams
        .push(seam("neck-facing-side", sides[0], sides[1]));
    let materials = Materials::of(&pattern);
    assert!(materials.strips.is_empty());
    assert_eq!(materials.cloths.len(), 1);
    assert_eq!(materials.cloths[0].layers, [Layer::Shell, Layer::Facing]);
    assert!((row(&materials, Stitching::Layers) - 800.0).abs() < 1e-9);
    // To the six raw edges of the tube comes the free edge of the facing, not the edge that is turned in.
    assert!((row(&materials, Stitching::Neatening) - (2400.0 + 800.0)).abs() < 1e-9);
}

#[test]
fn a_lining_hides_raw_edges_only_where_it_is_not_mounted() {
    let lined = |way| {
        let mut pattern = with_layer(Layer::Lining, "lining");
        pattern.makeup.lined = Some(Lined {
            way,
            pieces: 3,
            alterable: true,
        });
        let felled = |length, stitch| HandSewn {
            what: "neckline".into(),
            length,
            stitch,
        };
        pattern.makeup.by_hand = vec![felled(700.0, 2.5), felled(5000.0, 20.0)];
        let materials = Materials::of(&pattern);
        [Stitching::Neatening, Stitching::Layers, Stitching::Felling]
            .map(|what| row(&materials, what))
    };
    // The hem of the shell is felled, and what is told by itself; what is basted is not counted.
    assert_eq!(lined(LiningWay::Mounted), [2400.0, 0.0, 800.0 + 700.0]);
    assert_eq!(lined(LiningWay::Open), [0.0, 0.0, 1500.0]);
    assert_eq!(lined(LiningWay::Bagged), [0.0, 800.0, 1500.0]);
}

#[test]
fn hems_take_what_their_finish_takes() {
    let finished = |finish| {
        let mut pattern = tube();
        for piece in ["front", "back"] {
            pattern.makeup.hems.push(Hem {
                piece: piece.into(),
                edge: "hem".into(),
                finish,
                depth: 30.0,
                surplus: 0.0,
                strip: None,
            });
        }
        Materials::of(&pattern)
    };
    let narrow = finished(HemFinish::Narrow);
    // The binding of the neckline and two rows along the hem by machine; only the binding is felled.
    assert!((row(&narrow, Stitching::Hems) - (800.0 + 1600.0)).abs() < 1e-9);
    assert!((row(&narrow, Stitching::Felling) - 800.0).abs() < 1e-9);
    let bound = finished(HemFinish::Bound);
    let strips: Vec<&str> = bound.strips.iter().map(|one| one.edge.as_str()).collect();
    assert_eq!(strips, ["neckline", "hem"]);
    assert!((row(&bound, Stitching::Hems) - 1600.0).abs() < 1e-9);
}

#[test]
fn tapes_and_fastenings_are_summed_by_kind() {
    let mut pattern = tube();
    let tape = |piece: &str, along: &str, width| Stayed {
        stay: Stay::Tape(width),
        piece: piece.into(),
        along: along.into(),
        length: 200.0,
        why: "cut off grain".into(),
    };
    pattern.makeup.stayed = vec![
        tape("back", "neckline", 12.0),
        tape("front", "neckline", 10.0),
        tape("back", "side", 10.0),
    ];
    let closing = |closure| Closing {
        closure,
        along: vec![Stretch::backwards("back", "centre")],
        from: 0.0,
        opening: 100.0,
        length: 500.0,
        lap: 0.0,
    };
    let buttons = |count| Closure::Buttons {
        count,
        diameter: 15.0,
        hole: 18.0,
    };
    pattern.makeup.closings = vec![
        closing(Closure::InvisibleZip),
        closing(buttons(5)),
        closing(buttons(2)),
        Closing {
            opening: 0.0,
            ..closing(Closure::Hooks { count: 1 })
        },
    ];
    let materials = Materials::of(&pattern);
    let widths: Vec<f64> = materials.tapes.iter().map(|tape| tape.width).collect();
    assert_eq!(widths, [10.0, 12.0]);
    // The front's neckline in one piece over the fold, the back's side on both sides.
    assert_eq!(materials.tapes[0].length(), 400.0 + 2.0 * 200.0);
    let counts: Vec<u32> = materials.fastenings.iter().map(Fastening::count).collect();
    assert_eq!(counts, [1, 7, 1]);
    assert_eq!(row(&materials, Stitching::Zips), 200.0);
    // What three closings leave open of the back seam is not sewn.
    let sewn = row(&materials, Stitching::Seams);
    assert!((sewn - (3.0 * 400.0 - 3.0 * 100.0)).abs() < 1e-9, "{sewn}");
    assert_eq!(row(&materials, Stitching::Buttonholes), 7.0 * 18.0);
}

/// 220 cm of seam take 550 cm of thread, and 15 % of waste: three published studies of thread consumption agree.
#[test]
fn a_seam_of_thin_cloth_takes_what_is_published() {
    let mut pattern = tube();
    for cloth in &mut pattern.makeup.cloths {
        cloth.thickness = 0.1;
    }
    let seams = Materials::of(&pattern).thread.rows[0];
    assert!((seams.thread / seams.length - 550.0 / 220.0).abs() < 1e-12);
    // Two layers of 0.57 mm at 2.5 mm a stitch: 2 + 2 · 1.14 / 2.5.
    assert!((lockstitch(1.14) - 2.912).abs() < 1e-12);
    let thread = Materials::of(&pattern).thread;
    let sewn: f64 = thread.rows.iter().map(|row| row.thread).sum();
    assert!((thread.total() - 1.15 * sewn).abs() < 1e-9);
    assert_eq!(f64::from(thread.spools()), (thread.total() / SPOOL).ceil());
}
