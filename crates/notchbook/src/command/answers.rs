//! What `lay` and `most` share: the cloth that is asked about, and answers beside lays.
//!
//! Invariant: answers stand beside the lays of the same cloth, and never change them.

use std::path::PathBuf;
use std::sync::Arc;

use cloth::answers::Trials;
use cloth::lay::Wishes;
use cloth::nest::Continue;
use document::{Finding, Source};
use pattern::Layer;
use serde_json::{Value, json};

use crate::arguments::{Given, LayArguments};
use crate::draft::{draft_text, read_cloth, texts};
use making::answers::{self, Ask, Fits};
use making::draft::Draft;
use making::lays::{self, Goods, Laid};

/// The cloth that is asked about.
pub(crate) struct Choice<'a> {
    /// A cloth's file, instead of the garment's own cloths.
    pub(crate) cloth: Option<&'a PathBuf>,
    /// Layers; all where none is named.
    pub(crate) layers: &'a [Layer],
    /// How much of it there is, mm.
    pub(crate) length: Option<f64>,
    /// How wide it is, mm.
    pub(crate) width: Option<f64>,
}

/// The cloths, each with its layers: those asked for, on the cloth that is given instead of their own.
pub(crate) fn goods(choice: &Choice<'_>, draft: &Draft) -> Result<Vec<Goods>, Vec<Finding>> {
    let mut goods = lays::goods(draft);
    if !choice.layers.is_empty() {
        for one in &mut goods {
            one.layers.retain(|layer| choice.layers.contains(layer));
        }
        goods.retain(|one| !one.layers.is_empty());
        if goods.is_empty() {
            return Err(vec![no_such_layer(choice.layers)]);
        }
    }
    let is_other = choice.cloth.is_some() || choice.length.is_some() || choice.width.is_some();
    if is_other && choice.layers.is_empty() {
        // Without a layer named, the cloth is meant for the outside.
        goods.truncate(1);
    }
    if let Some(path) = choice.cloth {
        let cloth = read_cloth(path)?;
        let layers = goods.iter().flat_map(|one| one.layers.clone()).collect();
        goods = vec![Goods { cloth, layers }];
    }
    for one in &mut goods {
        let cloth = &mut one.cloth;
        cloth.length = choice.length.or(cloth.length);
        cloth.width = choice.width.unwrap_or(cloth.width);
        if cloth.usable_width() <= 0.0 {
            return Err(vec![no_width(one)]);
        }
    }
    Ok(goods)
}

fn no_such_layer(layers: &[Layer]) -> Finding {
    let asked: Vec<&str> = layers.iter().map(|layer| layer.word()).collect();
    Finding::error(
        "layer-without-pieces",
        format!("The garment has no piece of its {}.", asked.join(" or ")),
    )
    .allowed("a layer from which pieces are cut: shell, lining, facing, interfacing")
    .cure("Name another layer, or leave --layer away.")
}

fn no_width(goods: &Goods) -> Finding {
    let cloth = &goods.cloth;
    Finding::error(
        "cloth-without-width",
        format!(
            "The {} is {:.0} mm wide and its selvedges take {:.0} mm each.",
            cloth.name, cloth.width, cloth.selvedge
        ),
    )
    .allowed("a width of more than both selvedges")
    .cure("Give a larger --width, or the narrower selvedge in the cloth's file.")
}

/// Asks something about a cloth, with a way to draft the garment anew.
pub(crate) fn asked<T>(
    (given, draft): (&Given, &Draft),
    (goods, wishes, trials): (&Goods, &Wishes, &Trials),
    question: impl FnOnce(
        &Ask<'_>,
        &mut answers::Drafter<'_>,
        &mut answers::Hearing<'_>,
    ) -> Result<T, Vec<Finding>>,
) -> Result<T, Vec<Finding>> {
    let (source, bases) = texts(&given.garment)?;
    let ask = Ask {
        source: &source,
        bases: &bases,
        draft,
        goods,
        wishes,
        trials,
    };
    let mut drafter = |text: &Arc<Source>| draft_text(given, text);
    let mut hear = |_: &str| Continue::Yes;
    question(&ask, &mut drafter, &mut hear)
}

/// The answers beside lays, in words and for other programs; nothing where nothing was asked.
pub(crate) fn beside(
    arguments: &LayArguments,
    draft: &Draft,
    laid: &[Laid],
    wishes: &Wishes,
) -> Result<Option<(String, Value)>, Vec<Finding>> {
    let asks_fit = arguments.length.is_some();
    if !asks_fit && !arguments.savings {
        return Ok(None);
    }
    let trials = Trials {
        evaluations: arguments
            .evaluations
            .unwrap_or(Trials::default().evaluations),
        seed: arguments.seed,
        ..Trials::default()
    };
    let pattern = &draft.garment.pattern;
    let (mut text, mut all) = (String::new(), Vec::new());
    for one in laid {
        let goods = &one.goods;
        let about = ((&arguments.given, draft), (goods, wishes, &trials));
        if asks_fit {
            let known = Fits::known(one);
            let found = known.map_or_else(
                || {
                    asked(about.0, about.1, |ask, drafter, hear| {
                        answers::fits(ask, drafter, hear)
                    })
                },
                Ok,
            )?;
            text += &answers::fits_text(pattern, goods, &found);
            all.push(answers::fits_json(pattern, goods, wishes, &found));
        }
        if arguments.savings && !one.lays.is_empty() {
            let saved = asked(about.0, about.1, |ask, _, hear| {
                answers::saved(ask, one, hear)
            })?;
            text += &answers::saved_text(pattern, goods, &saved);
            all.push(answers::savings_json(pattern, goods, &saved));
        }
    }
    Ok(Some((
        text,
        json!({"format": "notchbook-answers-1", "answers": all}),
    )))
}
