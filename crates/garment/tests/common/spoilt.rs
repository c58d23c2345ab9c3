//! Patterns that are spoilt as neither draft nor steps would leave them, one thing in each.

use geometry::{Affine, Curve, Vec2};
use pattern::{Fullness, Lies, Pattern, Seam, Stretch};

/// How what was spoilt is cleared.
pub(crate) enum Cured {
    /// By each step that the finding offers.
    Offered,
    /// By this step; a layer is derived after the last one, so that a recipe cannot ask for it.
    By(&'static str),
    /// By nothing but the step that went wrong: it points to a mistake of the program.
    Never,
}

/// A way to spoil the pattern of a dress.
pub(crate) struct Spoilt {
    /// What is found then.
    pub(crate) code: &'static str,
    /// Spoils it.
    pub(crate) spoil: fn(&mut Pattern),
    /// How it is cleared.
    pub(crate) cured_by: Cured,
}

/// All that only a mistake could bring about.
pub(crate) const SPOILT: &[Spoilt] = &[
    Spoilt {
        code: "corner-open",
        spoil: |pattern| {
            let edge = &mut pattern.pieces[0].edges[0];
            let (start, end) = (edge.start(), edge.end());
            edge.runs = vec![Curve::line(start, end + Vec2::new(0.0, 3.0))];
        },
        cured_by: Cured::Never,
    },
    Spoilt {
        code: "outline-inside-out",
        spoil: |pattern| {
            let piece = &mut pattern.pieces[0];
            piece.darts.clear();
            piece.edges.reverse();
            for edge in &mut piece.edges {
                let (start, end) = (edge.start(), edge.end());
                edge.runs = vec![Curve::line(end, start)];
            }
        },
        cured_by: Cured::Never,
    },
    Spoilt {
        code: "outline-crosses",
        spoil: |pattern| {
            let piece = &mut pattern.pieces[0];
            let centre = piece.seam_outline()[0].start();
            let edge = &mut piece.edges[1];
            let (start, end) = (edge.start(), edge.end());
            let far = centre + (centre - start) * 3.0;
            edge.runs = vec![Curve::polyline(&[start, far, end]).expect("three points")];
        },
        cured_by: Cured::Never,
    },
    Spoilt {
        code: "seam-without-edge",
        spoil: |pattern| {
            pattern.seams[0].held[0].edge = "sleeve-head".into();
        },
        cured_by: Cured::Never,
    },
    Spoilt {
        code: "layers-differ",
        spoil: |pattern| {
            pattern.pieces.push(bowed_copy(pattern));
            pattern.makeup.lies.push(Lies {
                piece: LAYER.into(),
                upon: "skirt-front".into(),
                placed: Affine::IDENTITY,
            });
            pattern.makeup.mates.push(mate());
        },
        cured_by: Cured::By(
            "true-seam seam=\"skirt-lining-side\" edge=\"skirt-front-lining.side\" at=\"skirt-front-lining.hem\"",
        ),
    },
    Spoilt {
        code: "dart-legs-differ",
        spoil: |pattern| {
            let skirt = pattern.piece_mut("skirt-front").expect("it has a skirt");
            skirt.darts[0].point.x += 3.0;
        },
        cured_by: Cured::Offered,
    },
    Spoilt {
        code: "dart-not-trued",
        spoil: |pattern| {
            let front = pattern.piece_mut("skirt-front").expect("it has a skirt");
            let dart = front.darts[0].clone();
            let index = front.edge_index(&dart.edge).expect("it opens there");
            let run = &mut front.edges[index].runs[dart.gap];
            let (start, end) = (run.start(), run.end());
            let aside = Vec2::new(0.0, 12.0);
            *run = Curve::cubic(
                start,
                start.lerp(end, 0.3) - aside,
                start.lerp(end, 0.6) - aside,
                end,
            );
        },
        cured_by: Cured::Offered,
    },
    Spoilt {
        code: "dart-point-outside",
        spoil: |pattern| {
            let front = pattern.piece_mut("front").expect("it has a bodice");
            front.darts[0].point.y -= 5000.0;
        },
        cured_by: Cured::Offered,
    },
    Spoilt {
        code: "girth-off",
        // Without its sleeve: sides that are let out lengthen the armhole, to which a cap would have to be fitted anew.
        spoil: |pattern| {
            pattern.pieces.retain(|piece| piece.name != "sleeve");
            pattern.seams.retain(|seam| {
                seam.held
                    .iter()
                    .chain(&seam.worked)
                    .all(|one| one.piece != "sleeve")
            });
            pattern.girths[0].body += 1.0;
        },
        cured_by: Cured::Offered,
    },
];

/// The lining of the skirt's front.
const LAYER: &str = "skirt-front-lining";

/// A lining of the skirt's front whose side bows out beside that of the shell.
fn bowed_copy(pattern: &Pattern) -> pattern::Piece {
    let mut layer = pattern
        .piece("skirt-front")
        .expect("it has a skirt")
        .clone();
    layer.name = LAYER.into();
    layer.cut.layer = pattern::Layer::Lining;
    let side = layer.edge_index("side").expect("a skirt has a side");
    let runs = &mut layer.edges[side].runs;
    let last = runs.len() - 1;
    let (start, end) = (runs[last].start(), runs[last].end());
    let way = end - start;
    let aside = Vec2::new(way.y, -way.x) * 0.07;
    let thirds = [1.0 / 3.0, 2.0 / 3.0].map(|share| start.lerp(end, share) + aside);
    runs[last] = Curve::cubic(start, thirds[0], thirds[1], end);
    layer
}

/// The lining's side on that of the shell.
fn mate() -> Seam {
    Seam {
        name: "skirt-lining-side".into(),
        held: vec![Stretch::forwards("skirt-front", "side")],
        worked: vec![Stretch::forwards(LAYER, "side")],
        fullness: Fullness::None,
        runs_on: [false, false],
    }
}
