//! Facings: shaped bands behind neckline, armholes or waist, sewn to the edge and turned inside.
//!
//! **What it does.** Draws a band of one width on the shell as it is sewn, darts and style lines closed, for front and back;
//! draws it in at the edge by the turn of cloth, copies grain and notches, and joins a seam away where that is asked for.
//! **When it is used.** To finish an edge that is too curved to turn in, and to hold it in shape.
//! **Example.** `facings { neck width="55 mm" without-seam="shoulder"; armhole width="50 mm" }`.
//! **What can go wrong.** The band has no room (it is narrowed, and says so); a piece does not fit the cloth on the fold; the
//! sides of a seam that should go do not lie flat on each other; neck and armhole facing meet on the shoulder.
//!
//! Sewing it: allowances graded and clipped, both pressed towards the facing and understitched to it 2 mm from the seam; the
//! facing is held down by hand at the seams and darts only. Invariants: a facing has no darts; the shell's edge is a seam from then
//! on; every faced edge has a mate.

mod band;
mod fits;
mod make;
mod sewn;
mod walk;

use document::{Allowed, Finding, Place, Quantity};
use pattern::name::root;
use pattern::step::kit::walk::is_sewn;
use pattern::{Layer, Pattern};

use super::Asked;
use super::figures;
use crate::block::skirt::found;
use crate::recipe::parts::{FacingAt, FacingWish};
use band::{Ask, Band};
use make::Made;
use sewn::Sewn;
use walk::{Aligned, Foot, Walk};

impl FacingAt {
    /// The word behind the piece's name.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Neck => "neck-facing",
            Self::Armhole => "armhole-facing",
            Self::AllInOne => "all-in-one-facing",
            Self::Waist => "waist-facing",
        }
    }

    /// The edges behind which it lies.
    const fn faced(self) -> &'static [&'static str] {
        match self {
            Self::Neck => &["neckline"],
            Self::Armhole => &["armhole"],
            Self::AllInOne => &["neckline", "armhole"],
            Self::Waist => &["waist"],
        }
    }

    /// Whether it lies behind an edge of a root name: the neckline, or that of a wrap.
    fn faces(self, edge: &str) -> bool {
        self.faced().iter().any(|name| walk::is_named(edge, name))
    }

    /// Edges whose seams it closes whatever is asked: those between gores.
    const fn closed(self) -> &'static [&'static str] {
        match self {
            Self::Waist => &["front-edge", "back-edge"],
            _ => &[],
        }
    }

    /// The edges along which it runs.
    const fn along(self) -> &'static [&'static str] {
        match self {
            Self::AllInOne => &["neckline", "shoulder", "armhole"],
            _ => self.faced(),
        }
    }

    /// The pieces that it can lie behind.
    const fn sides(self) -> &'static [&'static str] {
        match self {
            Self::Waist => &found::NAMES,
            _ => &["front", "back"],
        }
    }
}

pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    let wishes = &asked.recipe.parts.facings.wishes;
    if wishes.is_empty() {
        return Ok(());
    }
    refuse_double(wishes)?;
    let mut all = Vec::new();
    for wish in wishes {
        refuse(pattern, wish, asked)?;
        all.push((wish, facings(pattern, wish, asked)?));
    }
    let findings = fits::findings(pattern, &all);
    pattern.findings.extend(findings);
    for (wish, made) in &all {
        make::add(pattern, made, wish);
    }
    Ok(())
}

/// All facings of one wish, on the shell as it stands.
fn facings(shell: &Pattern, wish: &FacingWish, asked: &Asked<'_>) -> Result<Vec<Made>, Finding> {
    let named = wish.without_seam.iter().map(|seam| seam.value.as_str());
    let over: Vec<&str> = named.chain(wish.at.closed().iter().copied()).collect();
    let walk = Walk {
        pattern: shell,
        along: wish.at.along(),
        over: &over,
        reach: wish.width,
        cloth_left: false,
        aligned: Aligned::Whole,
    };
    let mut seen: Vec<Foot> = Vec::new();
    let mut lines = Vec::new();
    for side in wish.at.sides() {
        for foot in walk::feet_on(shell, side, wish.at.faced()[0]) {
            let is_same = |one: &Foot| (one.piece, one.edge) == (foot.piece, foot.edge);
            if seen.iter().any(is_same) {
                continue;
            }
            let sewn = Sewn::of(&walk, foot);
            seen.extend(sewn.chunks.iter().map(|chunk| chunk.foot));
            lines.push(sewn);
        }
    }
    let made = alike(shell, &lines, wish, asked)?;
    if made.is_empty() {
        return Err(nothing_to_face(wish));
    }
    if let Some(seam) = &wish.without_seam
        && made.iter().all(|one| one.sides < 2)
    {
        return Err(Finding::error(
            "facing-seam-not-there",
            format!("no {} seam lies within the {}", seam.value, words(wish.at)),
        )
        .at_text(&seam.span, "not within the facing")
        .allowed("a seam that crosses the faced edge")
        .cure("take “without-seam” away"));
    }
    Ok(made)
}

/// Facings along several lines, all as wide as the narrowest of them must be.
fn alike(
    shell: &Pattern,
    lines: &[Sewn],
    wish: &FacingWish,
    asked: &Asked<'_>,
) -> Result<Vec<Made>, Finding> {
    let drawn = |wish: &FacingWish| -> Result<Vec<Made>, Finding> {
        let each = lines.iter();
        each.map(|sewn| facing(shell, sewn, wish, asked)).collect()
    };
    let mut made = drawn(wish)?;
    let narrowest = made.iter().map(|one| one.width).fold(wish.width, f64::min);
    if narrowest < wish.width {
        made = drawn(&FacingWish {
            width: narrowest,
            ..wish.clone()
        })?;
        for one in &mut made {
            let narrowed = narrowed(one, wish);
            one.findings.push(narrowed);
        }
    }
    Ok(made)
}

/// One facing, as wide as asked or as there is room.
fn facing(
    shell: &Pattern,
    sewn: &Sewn,
    wish: &FacingWish,
    asked: &Asked<'_>,
) -> Result<Made, Finding> {
    if sewn.apart > figures::JOINED_APART && wish.without_seam.is_some() {
        return Err(does_not_lie_flat(wish, sewn.apart));
    }
    let under_cut = under_cut(shell, wish.at, asked);
    let drawn = |width: f64| {
        let ask = Ask {
            width,
            under_cut,
            at: wish.at,
        };
        let band = Band::of(sewn, shell, &ask)?;
        let made = Made::new(shell, sewn, (band, width), wish, asked);
        made.piece.cutting_outline().is_ok().then_some(made)
    };
    if let Some(made) = drawn(wish.width) {
        return Ok(made);
    }
    widest(wish.width, drawn).ok_or_else(|| no_room(shell, sewn, wish))
}

/// The widest facing that has room, in whole millimetres; none where not even the least has.
fn widest(most: f64, drawn: impl Fn(f64) -> Option<Made>) -> Option<Made> {
    let (mut low, mut high) = (figures::LEAST_FACING, most.ceil());
    let mut best = drawn(low)?;
    while high - low > 1.0 {
        let middle = f64::midpoint(low, high).floor();
        match drawn(middle) {
            Some(made) => (low, best) = (middle, made),
            None => high = middle,
        }
    }
    Some(best)
}

/// By how much a facing is drawn in, mm: the stack of cloth that is turned at its edge.
fn under_cut(shell: &Pattern, at: FacingAt, asked: &Asked<'_>) -> f64 {
    let thickness = |layer| {
        shell
            .makeup
            .cloth(layer)
            .map_or(0.0, |cloth| cloth.thickness)
    };
    let twice = thickness(Layer::Shell) + thickness(Layer::Facing);
    let stiffened = asked.recipe.parts.interfacing.lies_behind(at.word());
    let once = if stiffened {
        thickness(Layer::Interfacing)
    } else {
        0.0
    };
    figures::UNDER_CUT * (2.0 * twice + once)
}

fn words(at: FacingAt) -> String {
    at.word().replace('-', " ")
}

/// Two facings of one edge.
fn refuse_double(wishes: &[FacingWish]) -> Result<(), Finding> {
    for (index, wish) in wishes.iter().enumerate() {
        let faced = |other: &&FacingWish| {
            let edges = other.at.faced();
            edges.iter().any(|edge| wish.at.faced().contains(edge))
        };
        if let Some(other) = wishes[..index].iter().find(faced) {
            return Err(Finding::error(
                "edge-faced-twice",
                format!(
                    "{} and {} lie behind one edge",
                    words(other.at),
                    words(wish.at)
                ),
            )
            .at_text(&other.span, "one")
            .at_text(&wish.span, "the other")
            .allowed("one facing behind an edge")
            .cure("take one of the lines away"));
        }
    }
    Ok(())
}

/// Wishes that make no sense on this garment.
fn refuse(shell: &Pattern, wish: &FacingWish, asked: &Asked<'_>) -> Result<(), Finding> {
    let against = |what: String, allowed: &str, cure: &str| {
        Err(Finding::error("facing-not-here", what)
            .at_text(&wish.span, "asked for here")
            .allowed(allowed)
            .cure(cure))
    };
    let faces_armhole = wish.at.faced().contains(&"armhole");
    if faces_armhole && asked.recipe.sleeve.is_some() {
        return against(
            "the armholes are sewn to sleeves and cannot be faced".into(),
            "an armhole facing on a garment without sleeves",
            "take this line or the sleeve away; a neck facing goes with sleeves",
        );
    }
    if wish.at != FacingAt::Waist {
        return Ok(());
    }
    if shell
        .girths
        .iter()
        .any(|girth| girth.level == "waist" && girth.gathered > 1.0)
    {
        return against(
            "the waist is gathered, and a facing holds no gathers".into(),
            "a waist that is fitted by darts or seams",
            "take a waistband, or another skirt",
        );
    }
    let sewn_to = |name: &&str| {
        walk::feet_on(shell, name, "waist")
            .iter()
            .any(|foot| is_sewn(shell, &foot.piece(shell).name, &foot.of(shell).name))
    };
    if wish.at.sides().iter().any(sewn_to) {
        return against(
            "the waist of the skirt is sewn to a bodice or a waistband".into(),
            "a waist facing on a skirt that is nothing else at its waist",
            "take this line or the waistband away",
        );
    }
    Ok(())
}

fn nothing_to_face(wish: &FacingWish) -> Finding {
    let edge = wish.at.faced()[0];
    Finding::error(
        "facing-not-here",
        format!("there is no {edge} behind which a facing could lie"),
    )
    .at_text(&wish.span, "asked for here")
    .allowed(format!("a garment with a {edge}"))
    .cure("take this line away")
}

fn does_not_lie_flat(wish: &FacingWish, apart: f64) -> Finding {
    let seam = wish.without_seam.as_ref();
    let name = seam.map_or("", |seam| seam.value.as_str());
    let finding = Finding::error(
        "facing-seam-not-flat",
        format!(
            "the two sides of the {name} seam do not lie flat on each other within the {}",
            words(wish.at)
        ),
    );
    let finding = match seam {
        Some(seam) => finding.at_text(&seam.span, "this seam must stay"),
        None => finding,
    };
    finding
        .measured(Quantity::mm(apart), Allowed::AtMost(Quantity::mm(figures::JOINED_APART)))
        .because("without the seam the facing is one flat piece, and would overlap or gape where the shell is shaped by it")
        .cure("take “without-seam” away, or make the facing narrower")
}

fn no_room(shell: &Pattern, sewn: &Sewn, wish: &FacingWish) -> Finding {
    let foot = sewn.chunks[0].foot;
    let piece = foot.piece(shell);
    Finding::error(
        "facing-without-room",
        format!(
            "a {} has no room behind the {} of the {}",
            words(wish.at),
            root(&foot.of(shell).name),
            piece.name
        ),
    )
    .at_text(&wish.span, "asked for here")
    .at(Place::Edge {
        piece: piece.name.clone(),
        edge: foot.of(shell).name.clone(),
        at: None,
    })
    .allowed(format!(
        "room for at least {:.0} mm between this edge and the next",
        figures::LEAST_FACING
    ))
    .because("the band would fold over itself or run beyond the seam beside it")
    .cure(match &wish.without_seam {
        Some(seam) => format!("leave its {} seam in: take “without-seam” away", seam.value),
        None => "face neck and armhole in one, bind the edge, or move it".into(),
    })
}

fn narrowed(made: &Made, wish: &FacingWish) -> Finding {
    let width = made.width;
    Finding::note(
        "facing-narrowed",
        format!(
            "the {} is {width:.0} mm wide: there is no room for {:.0} mm",
            made.piece.title().to_lowercase(),
            wish.width
        ),
    )
    .at_text(&wish.span, "asked for here")
    .at(Place::Piece(made.piece.name.clone()))
    .measured(
        Quantity::mm(wish.width),
        Allowed::AtMost(Quantity::mm(width)),
    )
    .because("a wider band would fold over itself or run beyond the seam beside it")
    .cure(format!(
        "ask for {width:.0} mm, or face neck and armhole in one"
    ))
}
