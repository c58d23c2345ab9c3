//! What a recipe says of facings: one line for each.
//!
//! `facings { neck width="55 mm" without-seam="shoulder"; armhole width="50 mm" without-seam="side"; waist; all-in-one }`

use document::{Entry, Span, check_properties};

use crate::part::figures;
use crate::recipe::Written;
use crate::recipe::fields::{Bounds, Fields};
use crate::recipe::layers::Layers;

/// Widths that can be asked for, mm.
const WIDTHS: Bounds = 15.0..=400.0;

/// Which edge a facing lies behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FacingAt {
    /// The neckline.
    Neck,
    /// The armholes.
    Armhole,
    /// Neckline and armholes in one.
    AllInOne,
    /// The waist of a skirt.
    Waist,
}

/// The middle of the body at which a facing is pieced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Centre {
    /// Centre front.
    Front,
    /// Centre back.
    Back,
}

/// What is asked of one facing.
#[derive(Clone, Debug, PartialEq)]
pub struct FacingWish {
    /// Behind which edge it lies.
    pub at: FacingAt,
    /// Width from the edge, mm.
    pub width: f64,
    /// Name of the seam that it does without: `shoulder` or `side`.
    pub without_seam: Option<Written<String>>,
    /// Where it has a seam though the shell lies on the fold there.
    pub piece_at: Option<Centre>,
    /// Where it is asked for.
    pub span: Span,
}

/// What is asked of facings, in the order in which they are made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FacingWishes {
    /// One for each.
    pub wishes: Vec<FacingWish>,
}

/// Lines of the block with the seams that each can do without.
const LINES: [(&str, FacingAt, &[&str]); 4] = [
    ("neck", FacingAt::Neck, &["shoulder"]),
    ("armhole", FacingAt::Armhole, &["shoulder", "side"]),
    ("all-in-one", FacingAt::AllInOne, &["side"]),
    ("waist", FacingAt::Waist, &["side"]),
];

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> FacingWishes {
    let Some(block) = layers.block("facings") else {
        return FacingWishes::default();
    };
    crate::recipe::read::lines(&block, &LINES.map(|line| line.0), fields);
    let wishes = LINES.iter().filter_map(|(name, at, seams)| {
        let line = block.child(name)?;
        Some(wish(line, *at, seams, fields))
    });
    FacingWishes {
        wishes: wishes.collect(),
    }
}

fn wish(line: &Entry, at: FacingAt, seams: &[&str], fields: &mut Fields<'_>) -> FacingWish {
    fields.findings.extend(check_properties(
        line,
        &["width", "without-seam", "piece-at"],
    ));
    let seams: Vec<(&str, String)> = seams.iter().map(|seam| (*seam, (*seam).into())).collect();
    let without_seam = line.property("without-seam").and_then(|value| {
        let seam = fields.keep(value.choice(&seams))?;
        Some(Written {
            value: seam,
            span: value.span().clone(),
        })
    });
    let centres = [
        ("centre-front", Centre::Front),
        ("centre-back", Centre::Back),
    ];
    let piece_at = line
        .property("piece-at")
        .and_then(|value| fields.keep(value.choice(&centres)));
    FacingWish {
        at,
        width: fields
            .length(line, "width", &WIDTHS)
            .unwrap_or(figures::FACING_WIDTH),
        without_seam,
        piece_at,
        span: line.span().clone(),
    }
}
