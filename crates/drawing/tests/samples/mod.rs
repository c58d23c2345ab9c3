//! Pieces made by hand, of the sizes and kinds that a drawing must cope with; they are no draft of any body.

#![allow(
    dead_code,
    unreachable_pub,
    reason = "each of those who share these pieces uses some of them"
)]

use drawing::Labels;
use geometry::{Affine, Angle, Curve, Knot, Point, Vec2};
use pattern::{
    Cut, Dart, Edge, EdgeKind, Fullness, InnerLine, Laid, Layer, Lies, Mark, Pattern, Piece,
    Pressed, Seam, Stretch,
};

/// What is written on the sample pieces.
pub fn labels() -> Labels {
    Labels {
        garment: "Concert dress".into(),
        version: "version 3".into(),
        body: "for the cellist".into(),
        date: Some("2026-11-24".into()),
    }
}

/// All sample pieces.
pub fn pattern() -> Pattern {
    Pattern {
        pieces: vec![
            bodice_front(),
            bodice_back(),
            sleeve(),
            skirt_front(900.0),
            gathered_skirt(1100.0, 900.0),
            waistband(800.0, 35.0),
            tie(),
            cuff(),
            tab(),
        ],
        ..Pattern::default()
    }
}

/// The bodice with a lining behind its front, a neck facing joined at the shoulder, interfacing on that, and a pocket.
pub fn layered() -> Pattern {
    let (front, back) = (bodice_front(), bodice_back());
    let shoulder = Seam {
        name: "shoulder".into(),
        held: vec![Stretch::forwards("front", "shoulder")],
        worked: vec![Stretch::forwards("back", "shoulder")],
        fullness: Fullness::Eased(0.7),
        runs_on: [true, true],
    };
    let mut pattern = Pattern {
        pieces: vec![front, back],
        seams: vec![shoulder],
        ..Pattern::default()
    };
    let lining = Piece {
        name: "front-lining".into(),
        ..bodice_front()
    };
    behind(
        &mut pattern,
        lining,
        Layer::Lining,
        "front",
        Affine::IDENTITY,
    );
    let facing = box_piece("neck-facing", [-10.0, -40.0, 110.0, 120.0]);
    behind(
        &mut pattern,
        facing,
        Layer::Facing,
        "front",
        Affine::IDENTITY,
    );
    // Beyond the shoulder the facing goes on over the back, which is drawn with its centre to the left, too: mirrored.
    let front = [point(70.0, 0.0), point(188.0, 46.0)];
    let back = [point(72.0, 0.0), point(188.0, 40.0)];
    pattern.makeup.lies.push(Lies {
        piece: "neck-facing".into(),
        upon: "back".into(),
        placed: geometry::curve::mirror_in(back[0], back[1]) * laid_on(front, back),
    });
    let stiff = box_piece("neck-interfacing", [0.0, -30.0, 100.0, 110.0]);
    behind(
        &mut pattern,
        stiff,
        Layer::Interfacing,
        "neck-facing",
        Affine::IDENTITY,
    );
    let bag = box_piece("side-pocket", [100.0, 250.0, 210.0, 400.0]);
    behind(
        &mut pattern,
        bag,
        Layer::Lining,
        "back",
        Affine::translate((5.0, -10.0)),
    );
    pattern
}

fn behind(pattern: &mut Pattern, mut piece: Piece, layer: Layer, upon: &str, placed: Affine) {
    piece.cut.layer = layer;
    pattern.makeup.lies.push(Lies {
        piece: piece.name.clone(),
        upon: upon.into(),
        placed,
    });
    pattern.pieces.push(piece);
}

/// The turn and shift that takes one stretch onto another.
fn laid_on(from: [Point; 2], onto: [Point; 2]) -> Affine {
    let turn = geometry::curve::angle_between(from[1] - from[0], onto[1] - onto[0]);
    Affine::translate(onto[0] - from[0]) * geometry::curve::turn_about(from[0], turn)
}

fn box_piece(name: &str, [x0, y0, x1, y1]: [f64; 4]) -> Piece {
    let corners = [point(x0, y0), point(x1, y0), point(x1, y1), point(x0, y1)];
    let side = |word: &str, from: usize| {
        edge(
            word,
            EdgeKind::Seam,
            vec![line(corners[from], corners[(from + 1) % 4])],
            10.0,
        )
    };
    let edges = vec![
        side("top", 0),
        side("right", 1),
        side("bottom", 2),
        side("left", 3),
    ];
    piece(name, edges, Laid::Single)
}

fn point(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn line(from: Point, to: Point) -> Curve {
    Curve::line(from, to)
}

fn smooth(knots: &[Knot]) -> Curve {
    Curve::smooth(knots).expect("the knots of a sample lie apart")
}

fn edge(name: &str, kind: EdgeKind, runs: Vec<Curve>, allowance: f64) -> Edge {
    let mut edge = Edge::new(name, kind, runs[0].clone());
    edge.runs = runs;
    edge.allowance = allowance;
    edge
}

fn notch(name: &str, edge: &str, along: f64, strokes: u8) -> Mark {
    Mark::Notch {
        name: name.into(),
        edge: edge.into(),
        along,
        strokes,
    }
}

fn dart(name: &str, edge: &str, point: Point, pressed: Pressed) -> Dart {
    Dart {
        name: name.into(),
        edge: edge.into(),
        gap: 0,
        point,
        aim: point,
        pressed,
    }
}

fn piece(name: &str, edges: Vec<Edge>, laid: Laid) -> Piece {
    let count = if laid == Laid::Pair { 2 } else { 1 };
    Piece {
        name: name.into(),
        edges,
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count,
            laid,
        },
        peaked: Vec::new(),
        asked: None,
    }
}

/// Half a front with a bust dart at the side and a waist dart.
pub fn bodice_front() -> Piece {
    let down = Vec2::new(0.0, 1.0);
    let neckline = smooth(&[
        Knot::toward(point(0.0, 85.0), Vec2::new(1.0, 0.0)),
        Knot::toward(point(70.0, 0.0), Vec2::new(0.25, -1.0)),
    ]);
    let shoulder = line(point(70.0, 0.0), point(188.0, 46.0));
    let armhole = smooth(&[
        Knot::toward(point(188.0, 46.0), Vec2::new(-0.35, 1.0)),
        Knot::toward(point(172.0, 135.0), down),
        Knot::toward(point(244.0, 212.0), Vec2::new(1.0, 0.12)),
    ]);
    let side = vec![
        line(point(244.0, 212.0), point(241.0, 252.0)),
        line(point(232.0, 305.0), point(214.0, 412.0)),
    ];
    let waist = vec![
        smooth(&[
            Knot::free(point(214.0, 412.0)),
            Knot::toward(point(113.0, 430.0), Vec2::new(-1.0, 0.03)),
        ]),
        smooth(&[
            Knot::toward(point(80.0, 430.0), Vec2::new(-1.0, -0.03)),
            Knot::toward(point(0.0, 427.0), Vec2::new(-1.0, 0.0)),
        ]),
    ];
    let edges = vec![
        edge("neckline", EdgeKind::Finished, vec![neckline], 10.0),
        edge("shoulder", EdgeKind::Seam, vec![shoulder], 15.0),
        edge("armhole", EdgeKind::Seam, vec![armhole], 12.0),
        edge("side", EdgeKind::Seam, side, 15.0),
        edge("waist", EdgeKind::Seam, waist, 15.0),
        edge(
            "centre",
            EdgeKind::Fold,
            vec![line(point(0.0, 427.0), point(0.0, 85.0))],
            0.0,
        ),
    ];
    let mut front = piece("front", edges, Laid::OnFold("centre".into()));
    front.darts = vec![
        dart("bust-dart", "side", point(130.0, 268.0), Pressed::After),
        dart("waist-dart", "waist", point(97.0, 298.0), Pressed::After),
    ];
    front.marks = vec![
        Mark::Point {
            name: "bust-point".into(),
            at: point(97.0, 262.0),
        },
        notch("shoulder", "shoulder", 63.0, 1),
        notch("armhole-front", "armhole", 150.0, 1),
        notch("side", "side", 140.0, 1),
    ];
    let bust = vec![
        line(point(0.0, 262.0), point(130.0, 262.0)),
        line(point(130.0, 262.0), point(240.0, 255.0)),
    ];
    front.lines = vec![InnerLine {
        name: "bust".into(),
        runs: bust,
    }];
    front
}

/// Half a back with a waist dart and an opening at the centre.
pub fn bodice_back() -> Piece {
    let neckline = smooth(&[
        Knot::toward(point(0.0, 22.0), Vec2::new(1.0, 0.0)),
        Knot::toward(point(72.0, 0.0), Vec2::new(0.45, -1.0)),
    ]);
    let armhole = smooth(&[
        Knot::toward(point(188.0, 40.0), Vec2::new(-0.3, 1.0)),
        Knot::toward(point(178.0, 130.0), Vec2::new(0.0, 1.0)),
        Knot::toward(point(234.0, 205.0), Vec2::new(1.0, 0.05)),
    ]);
    let waist = vec![
        line(point(206.0, 404.0), point(110.0, 415.0)),
        line(point(86.0, 417.0), point(0.0, 420.0)),
    ];
    let edges = vec![
        edge("neckline", EdgeKind::Finished, vec![neckline], 10.0),
        edge(
            "shoulder",
            EdgeKind::Seam,
            vec![line(point(72.0, 0.0), point(188.0, 40.0))],
            15.0,
        ),
        edge("armhole", EdgeKind::Seam, vec![armhole], 12.0),
        edge(
            "side",
            EdgeKind::Seam,
            vec![line(point(234.0, 205.0), point(206.0, 404.0))],
            15.0,
        ),
        edge("waist", EdgeKind::Seam, waist, 15.0),
        edge(
            "centre",
            EdgeKind::Opening,
            vec![line(point(0.0, 420.0), point(0.0, 22.0))],
            20.0,
        ),
    ];
    let mut back = piece("back", edges, Laid::Pair);
    back.darts = vec![dart(
        "waist-dart",
        "waist",
        point(100.0, 258.0),
        Pressed::After,
    )];
    back.marks = vec![
        notch("shoulder", "shoulder", 62.0, 1),
        notch("armhole-back", "armhole", 120.0, 2),
        notch("side", "side", 160.0, 1),
    ];
    back.lines = vec![InnerLine {
        name: "bust".into(),
        runs: vec![line(point(0.0, 245.0), point(228.0, 245.0))],
    }];
    back
}

/// A set-in sleeve.
pub fn sleeve() -> Piece {
    let (right, flat) = (Vec2::new(1.0, 0.0), Vec2::new(1.0, 0.1));
    let back = smooth(&[
        Knot::toward(point(-170.0, 135.0), Vec2::new(1.0, -0.1)),
        Knot::free(point(-95.0, 60.0)),
        Knot::toward(point(0.0, 0.0), right),
    ]);
    let front = smooth(&[
        Knot::toward(point(0.0, 0.0), right),
        Knot::free(point(88.0, 62.0)),
        Knot::toward(point(170.0, 135.0), flat),
    ]);
    let edges = vec![
        edge("cap-back", EdgeKind::Seam, vec![back], 12.0),
        edge("cap-front", EdgeKind::Seam, vec![front], 12.0),
        edge(
            "underarm-front",
            EdgeKind::Seam,
            vec![line(point(170.0, 135.0), point(120.0, 580.0))],
            15.0,
        ),
        edge(
            "hem",
            EdgeKind::Hem,
            vec![line(point(120.0, 580.0), point(-120.0, 580.0))],
            30.0,
        ),
        edge(
            "underarm-back",
            EdgeKind::Seam,
            vec![line(point(-120.0, 580.0), point(-170.0, 135.0))],
            15.0,
        ),
    ];
    let mut sleeve = piece("sleeve", edges, Laid::Pair);
    sleeve.marks = vec![
        notch("armhole-front", "cap-front", 120.0, 1),
        notch("armhole-back", "cap-back", 95.0, 2),
        notch("crown", "cap-front", 0.0, 1),
    ];
    sleeve.lines = vec![
        InnerLine {
            name: "upper-arm".into(),
            runs: vec![line(point(-170.0, 135.0), point(170.0, 135.0))],
        },
        InnerLine {
            name: "elbow".into(),
            runs: vec![line(point(-147.0, 340.0), point(147.0, 340.0))],
        },
    ];
    sleeve
}

/// Half a fitted skirt of a length, mm.
pub fn skirt_front(length: f64) -> Piece {
    let side = smooth(&[
        Knot::free(point(228.0, -14.0)),
        Knot::toward(point(255.0, 205.0), Vec2::new(0.03, 1.0)),
        Knot::toward(point(275.0, length), Vec2::new(0.03, 1.0)),
    ]);
    let waist = vec![
        smooth(&[
            Knot::toward(point(0.0, 0.0), Vec2::new(1.0, 0.0)),
            Knot::free(point(92.0, -1.0)),
        ]),
        smooth(&[
            Knot::free(point(112.0, -2.0)),
            Knot::free(point(228.0, -14.0)),
        ]),
    ];
    let edges = vec![
        edge("waist", EdgeKind::Seam, waist, 15.0),
        edge("side", EdgeKind::Seam, vec![side], 15.0),
        edge(
            "hem",
            EdgeKind::Hem,
            vec![line(point(275.0, length), point(0.0, length))],
            40.0,
        ),
        edge(
            "centre",
            EdgeKind::Fold,
            vec![line(point(0.0, length), point(0.0, 0.0))],
            0.0,
        ),
    ];
    let mut skirt = piece("skirt-front", edges, Laid::OnFold("centre".into()));
    skirt.darts = vec![dart(
        "waist-dart",
        "waist",
        point(103.0, 90.0),
        Pressed::Before,
    )];
    skirt.marks = vec![notch("hip", "side", 205.0, 1)];
    skirt.lines = vec![InnerLine {
        name: "hip".into(),
        runs: vec![line(point(0.0, 205.0), point(255.0, 205.0))],
    }];
    skirt
}

/// A plain width of cloth to be gathered.
pub fn gathered_skirt(width: f64, length: f64) -> Piece {
    let edges = vec![
        edge(
            "waist",
            EdgeKind::Seam,
            vec![line(point(0.0, 0.0), point(width, 0.0))],
            15.0,
        ),
        edge(
            "side",
            EdgeKind::Seam,
            vec![line(point(width, 0.0), point(width, length))],
            15.0,
        ),
        edge(
            "hem",
            EdgeKind::Hem,
            vec![line(point(width, length), point(0.0, length))],
            50.0,
        ),
        edge(
            "centre",
            EdgeKind::Fold,
            vec![line(point(0.0, length), point(0.0, 0.0))],
            0.0,
        ),
    ];
    let mut skirt = piece("skirt-back", edges, Laid::OnFold("centre".into()));
    skirt.marks = vec![notch("gathers", "waist", width / 2.0, 1)];
    skirt
}

/// A band of a length and height, mm.
pub fn waistband(length: f64, height: f64) -> Piece {
    let corners = [
        point(0.0, 0.0),
        point(length, 0.0),
        point(length, height),
        point(0.0, height),
    ];
    let side = |name: &str, from: usize, allowance| {
        edge(
            name,
            EdgeKind::Seam,
            vec![line(corners[from], corners[(from + 1) % 4])],
            allowance,
        )
    };
    let edges = vec![
        side("inside", 0, 10.0),
        side("end", 1, 10.0),
        side("waist", 2, 10.0),
        side("start", 3, 10.0),
    ];
    let mut band = piece("waistband", edges, Laid::Single);
    band.grain = Angle::from_degrees(0.0);
    band.marks = vec![
        notch("side", "waist", length * 0.25, 1),
        notch("centre-front", "waist", length * 0.5, 1),
        notch("side", "waist", length * 0.75, 1),
    ];
    band
}

/// A narrow strip on the bias.
pub fn tie() -> Piece {
    let mut tie = waistband(420.0, 24.0);
    tie.name = "tie".into();
    tie.grain = Angle::from_degrees(45.0);
    tie.marks.clear();
    tie.cut = Cut {
        layer: Layer::Shell,
        count: 4,
        laid: Laid::Pair,
    };
    tie
}

/// A small cuff without allowance.
pub fn cuff() -> Piece {
    let mut cuff = waistband(210.0, 60.0);
    cuff.name = "cuff".into();
    for edge in &mut cuff.edges {
        edge.allowance = 0.0;
    }
    cuff.cut = Cut {
        layer: Layer::Interfacing,
        count: 2,
        laid: Laid::Pair,
    };
    cuff.lines = vec![InnerLine {
        name: "fold".into(),
        runs: vec![line(point(0.0, 30.0), point(210.0, 30.0))],
    }];
    cuff
}

/// A tab so small that hardly a word has room.
pub fn tab() -> Piece {
    let mut tab = waistband(45.0, 18.0);
    tab.name = "belt-loop".into();
    tab.marks.clear();
    tab
}
