//! Lays of a draft: which cloth each layer is cut from, how the pieces lie on it, how much of it to buy.
//!
//! Knows drafts and cloths, no file, no page. Invariants: every lay that is handed out was proven; the same draft, wishes, seed and
//! number of evaluations give the same lays and the same words.

mod json;
mod pages;
mod words;

use cloth::goods::Cloth;
use cloth::lay::{Answer, Effort, Lay, Told, Way, Wishes, answer};
use cloth::nest::Continue;
use document::Finding;
use pattern::{Layer, Pattern};
use sheet::Panel;

use crate::Draft;

pub use json::json;
pub use pages::{pages, panel};
pub use words::{bought, buy_words, cloth_title, metres, money, text};

/// How many places are tried for each cloth of a garment when its papers are made: few, so that papers come at once.
pub const QUICK: u64 = 600_000;
/// How many lays of one cloth are offered.
const OFFERED: usize = 3;

/// A cloth and the layers that are cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Goods {
    /// The cloth.
    pub cloth: Cloth,
    /// The layers.
    pub layers: Vec<Layer>,
}

/// A lay with what follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The lay.
    pub lay: Lay,
    /// Lengths, cost, order.
    pub answer: Answer,
}

/// The lays of one cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// What is laid on what.
    pub goods: Goods,
    /// Proven lays, the shortest first, each folded another way.
    pub lays: Vec<Shown>,
    /// Why a way is not among them; where the cloth does not suffice.
    pub findings: Vec<Finding>,
    /// How many places were tried.
    pub evaluations: u64,
}

/// The cloths of a garment in the order of their layers, each once.
pub fn goods(draft: &Draft) -> Vec<Goods> {
    let pattern = &draft.garment.pattern;
    let mut all: Vec<Goods> = Vec::new();
    for layer in Layer::ALL {
        if !pattern.pieces.iter().any(|piece| piece.cut.layer == layer) {
            continue;
        }
        let cloth = cloth_of(draft, pattern, layer);
        match all.iter_mut().find(|known| known.cloth == cloth) {
            Some(known) => known.layers.push(layer),
            None => all.push(Goods {
                cloth,
                layers: vec![layer],
            }),
        }
    }
    all
}

/// The cloth of a layer: its file with what the garment's own line says otherwise, or that line alone.
fn cloth_of(draft: &Draft, pattern: &Pattern, layer: Layer) -> Cloth {
    let made = pattern.makeup.cloth(layer);
    let text = draft.cloths.iter().find(|(of, _)| *of == layer);
    // It was read when the garment was opened.
    let file = text.and_then(|(_, text)| cloth::goods::read(text).ok());
    match (made, file) {
        (Some(made), Some(cloth)) => overridden(&cloth, made),
        (Some(made), None) => Cloth::of_makeup(made),
        (None, Some(cloth)) => cloth,
        (None, None) => Cloth::plain(layer.word(), 1400.0),
    }
}

fn overridden(cloth: &Cloth, made: &pattern::Cloth) -> Cloth {
    let mut cloth = cloth.clone();
    let written = cloth.makeup(made.layer);
    cloth.name.clone_from(&made.name);
    cloth.weight = made.weight;
    cloth.thickness = made.thickness;
    cloth.frays = made.frays;
    if written.width != made.width {
        // The garment's own line gives the usable width as it is laid.
        cloth.width = made.width;
        cloth.selvedge = 0.0;
        cloth.shrinkage[1] = 0.0;
    }
    cloth
}

/// Searches for lays of one cloth.
///
/// `start` are lays from before an edit. `progress` hears of every shorter lay and may stop the search; then the best so far
/// are returned.
pub fn lay_out(
    draft: &Draft,
    goods: &Goods,
    wishes: &Wishes,
    effort: &Effort,
    start: &[Lay],
    progress: &mut dyn FnMut(Told<'_>) -> Continue,
) -> Result<Laid, Vec<Finding>> {
    let pattern = &draft.garment.pattern;
    let Goods { cloth, layers } = goods;
    let found = cloth::lay::lays(pattern, layers, cloth, wishes, effort, start, progress)?;
    let mut lays: Vec<Shown> = found
        .lays
        .into_iter()
        .filter_map(|lay| {
            let answer = answer(pattern, layers, cloth, &lay)?;
            Some(Shown { lay, answer })
        })
        .collect();
    lays.truncate(OFFERED);
    let mut findings = found.findings;
    findings.extend(lays.first().and_then(|best| too_short(cloth, best)));
    Ok(Laid {
        goods: goods.clone(),
        lays,
        findings,
        evaluations: found.evaluations,
    })
}

/// All cloths of a garment with the little effort that papers take, laid open and folded lengthwise, as most cloth is; a cloth that cannot be laid has findings instead of lays.
pub fn quick(draft: &Draft) -> Vec<Laid> {
    let effort = Effort {
        evaluations: Some(QUICK),
        seed: 1,
        ..Effort::default()
    };
    let wishes = Wishes {
        ways: vec![Way::Open, Way::Lengthwise],
        ..Wishes::default()
    };
    let one = |goods: Goods| {
        let mut go_on = |_: Told<'_>| Continue::Yes;
        let laid = lay_out(draft, &goods, &wishes, &effort, &[], &mut go_on);
        laid.unwrap_or_else(|findings| Laid {
            goods,
            lays: Vec::new(),
            findings,
            evaluations: 0,
        })
    };
    goods(draft).into_iter().map(one).collect()
}

fn too_short(cloth: &Cloth, best: &Shown) -> Option<Finding> {
    let missing = -best.answer.left?;
    (missing > 0.0).then(|| {
        Finding::warning(
            "cloth-too-short",
            format!(
                "the {} on hand is {} short for the shortest lay that was found",
                cloth.name,
                metres(missing)
            ),
        )
        .because("the pieces, and straightening both ends, take more than there is")
        .cure("search longer, or change the garment: a shorter or less full skirt, a seam at CB, piecing a facing")
    })
}

/// The lay as a panel at the usual scale.
pub fn drawn(draft: &Draft, goods: &Goods, shown: &Shown) -> Panel {
    panel(draft, goods, shown, drawing::LAY_SCALE)
}
