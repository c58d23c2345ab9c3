//! Lays in words: lengths as a shop sells them, what bounds them, what falls away, in which order to cut.
//!
//! Knows how numbers are rounded for people. Invariant: nothing that is bought is rounded down.

use cloth::goods::Cloth;
use cloth::lay::{Part, STRAIGHTENING, STRIPS, Way};

use super::{Goods, Laid, Shown};
use crate::words::{WIDTH, listed, sentence, wrapped};

/// "2.65 m".
pub fn metres(mm: f64) -> String {
    format!("{:.2} m", (mm / 10.0 - 1e-9).ceil() / 100.0)
}

/// "24.50 €".
pub fn money(amount: f64, currency: &str) -> String {
    format!("{amount:.2} {currency}").trim_end().to_owned()
}

/// What of a cloth is bought for a lay: "2.65 m of 152 cm width", or that a left-over suffices.
pub fn bought(cloth: &Cloth, shown: &Shown) -> String {
    let width = cloth.width / 10.0;
    match shown.answer.to_buy {
        Some(length) => format!("{} of {width:.0} cm width", metres(length)),
        None => format!(
            "the left-over suffices; the pieces take {} of it",
            metres(shown.lay.length)
        ),
    }
}

/// The lines that stand above a lay: what to buy, and how good it is.
pub fn buy_words(goods: &Goods, shown: &Shown) -> Vec<String> {
    let (cloth, answer) = (&goods.cloth, &shown.answer);
    let mut lines = Vec::new();
    let laid = metres(answer.laid);
    let cost = match (answer.cost, &cloth.price) {
        (Some(cost), Some(price)) => format!(", {}", money(cost, &price.currency)),
        _ => String::new(),
    };
    let washing = if answer.shrinks > 0.5 {
        format!(" and {} that washing takes", metres(answer.shrinks))
    } else {
        String::new()
    };
    lines.push(match answer.to_buy {
        Some(_) => format!(
            "Buy {}{cost}: {laid} as laid, {:.0} cm to straighten the ends{washing}, rounded up.",
            bought(cloth, shown),
            STRAIGHTENING / 10.0
        ),
        None => format!("{}.", sentence(&bought(cloth, shown))),
    });
    if let Some(left) = answer.left {
        lines.push(if left >= 0.0 {
            format!(
                "Of what is there, {:.2} m are left as it is laid.",
                (left / 10.0).floor() / 100.0
            )
        } else {
            format!("What is there is {} too short.", metres(-left))
        });
    }
    lines.push(bounds(shown));
    lines
}

fn bounds(shown: &Shown) -> String {
    let bounds = shown.answer.bounds;
    let down = |mm: f64| format!("{:.2} m", (mm / 10.0).floor() / 100.0);
    let folds = if bounds.folds > 0.0 {
        format!(
            ", pieces behind each other on the fold {}",
            down(bounds.folds)
        )
    } else {
        String::new()
    };
    format!(
        "{:.0} % falls away. No lay of this kind can be shorter than: the area of all pieces {}, the longest piece {}{folds}.",
        100.0 * shown.answer.waste,
        down(bounds.area),
        down(bounds.longest)
    )
}

/// "Black wool crepe (shell), folded lengthwise".
pub(super) fn title(goods: &Goods, way: Way) -> String {
    format!("{}, {}", cloth_title(goods), way.title())
}

/// "Black wool crepe (shell)".
pub fn cloth_title(goods: &Goods) -> String {
    let layers: Vec<String> = goods
        .layers
        .iter()
        .map(|layer| layer.word().to_owned())
        .collect();
    let layers = listed(&layers);
    if goods.cloth.name == layers {
        sentence(&goods.cloth.name)
    } else {
        format!("{} ({layers})", sentence(&goods.cloth.name))
    }
}

/// All that is said of the lays of a cloth.
pub fn text(laid: &Laid) -> String {
    let mut lines = vec![cloth_title(&laid.goods)];
    for (number, shown) in laid.lays.iter().enumerate() {
        let way = sentence(shown.lay.way.title());
        lines.push(format!("  {}. {way}", number + 1));
        for line in buy_words(&laid.goods, shown) {
            let line = wrapped(&line, WIDTH - 5);
            lines.extend(line.lines().map(|line| format!("     {line}")));
        }
    }
    if let Some(best) = laid.lays.first() {
        lines.push(format!("  In order of cutting ({}):", best.lay.way.title()));
        lines.extend(order(best));
    }
    lines.join("\n") + "\n"
}

fn order(shown: &Shown) -> impl Iterator<Item = String> + '_ {
    let order = shown.answer.order.iter().enumerate();
    order.map(|(number, &at)| {
        let copy = &shown.lay.copies[at];
        let how = match copy.part {
            _ if copy.piece == STRIPS => "a square, cut in one spiral",
            Part::OnFold => "on the fold",
            Part::Both => "a pair, through both layers",
            Part::AsDrawn => "one of a pair, as drawn",
            Part::Mirrored => "one of a pair, paper piece face down",
            Part::Whole => "whole: draw the other half by turning the paper piece over",
            Part::Single => "one",
        };
        format!("     {:>2} {}: {how}", number + 1, copy.title)
    })
}
