//! Answers in words: one sentence for each change, with the millimetres that it saves and what it costs.
//!
//! Invariant: what is saved is rounded down, what is needed up.

use cloth::answers::{Change, LEAST, Saving, Savings};
use cloth::lay::{STRIPS, Way};
use document::Change as Line;
use pattern::{Laid as Lies, Pattern, name};

use super::most::{Found, Missed, Most, Why};
use super::{Doing, Fits, Remedy, Saved, number};
use crate::lays::{Goods, cloth_title, metres};
use crate::words::{WIDTH, count, listed, sentence, spoken, wrapped};
use garment::recipe::numbers::Number;

/// What is done otherwise: "the neck facing off the fold".
pub fn change_words(pattern: &Pattern, change: &Change) -> String {
    let the = |piece: &str| format!("the {}", piece_words(pattern, piece));
    match change {
        Change::Way(way) => format!("laid {}", way.title()),
        Change::OffFold { piece } => format!("{} off the fold", the(piece)),
        Change::Grain(degrees) => format!("the grain off by up to {degrees:.0}°"),
        Change::SeamAtFold { piece } => {
            format!("a seam at {} of {}", centre(pattern, piece), the(piece))
        }
        Change::Pieced { piece, spot, .. } => format!("{} pieced {spot}", the(piece)),
    }
}

fn piece_words(pattern: &Pattern, name: &str) -> String {
    match pattern.piece(name) {
        Some(piece) => piece.title().to_lowercase(),
        None if name == STRIPS => "square for bias strips".to_owned(),
        None => spoken(name),
    }
}

/// "CF", "CB", or where else the fold of a piece is.
fn centre(pattern: &Pattern, piece: &str) -> &'static str {
    let fold = pattern.piece(piece).and_then(|one| match &one.cut.laid {
        Lies::OnFold(fold) => Some(fold.as_str()),
        _ => None,
    });
    let part = fold.filter(|fold| name::root(fold) != *fold);
    let holds = |word: &str| {
        part.unwrap_or(piece)
            .split(['-', '/'])
            .any(|one| one == word)
    };
    match (holds("front"), holds("back")) {
        (true, _) => "CF",
        (_, true) => "CB",
        _ => "the middle",
    }
}

/// What a change costs whoever cuts and sews.
fn cost(change: &Change) -> &'static str {
    match change {
        Change::Way(Way::Open) => "left and right of every pair are cut one by one",
        Change::Way(Way::Lengthwise) => "pairs are cut through two layers",
        Change::Way(Way::Crosswise) => "pairs are cut through two layers, others behind them",
        Change::Way(Way::Partly) => "only a part of the width lies double",
        Change::OffFold { .. } => {
            "it is laid whole, its other half drawn with the paper turned over"
        }
        Change::Grain(_) => "what hangs free may turn or drop a little",
        Change::SeamAtFold { .. } => "one seam more, with its allowances",
        Change::Pieced { .. } => "one seam more where it is not seen, with its allowances",
    }
}

/// One sentence: "The neck facing off the fold saves 240 mm: …".
pub fn saving_words(pattern: &Pattern, saving: &Saving) -> String {
    let chance = if saving.give_or_take >= 0.5 {
        format!(" (give or take {:.0})", saving.give_or_take.ceil())
    } else {
        String::new()
    };
    format!(
        "{} saves {:.0} mm{chance}: {}.",
        sentence(&change_words(pattern, &saving.change)),
        saving.saved.floor(),
        cost(&saving.change)
    )
}

/// All savings of a cloth.
pub fn saved_text(pattern: &Pattern, goods: &Goods, saved: &Saved) -> String {
    let mut lines = vec![cloth_title(goods)];
    for from in &saved.from {
        lines.push(format!(
            "  What would save cloth, laid {} with {}:",
            from.without.best.way.title(),
            metres(from.without.best.length)
        ));
        lines.extend(savings(pattern, from));
    }
    lines.join("\n") + "\n"
}

fn savings(pattern: &Pattern, from: &Savings) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for saving in &from.savings {
        lines.extend(set_in(&saving_words(pattern, saving), "     "));
    }
    if lines.is_empty() {
        let tried = count(from.tried, "change");
        lines.push(format!(
            "     Nothing: {tried} tried, none saves {LEAST:.0} mm or more than chance does."
        ));
    }
    if from.stopped {
        lines.push("     It was stopped before everything was tried.".to_owned());
    }
    lines
}

fn set_in(text: &str, indent: &str) -> Vec<String> {
    let text = wrapped(text, WIDTH - indent.len());
    text.lines().map(|line| format!("{indent}{line}")).collect()
}

/// "1.75 m of black wool crepe, 150 cm wide": what there is.
fn on_hand(goods: &Goods, room: f64) -> String {
    let cloth = &goods.cloth;
    let width = cloth.width / 10.0;
    match cloth.length {
        Some(length) if room.is_finite() => format!(
            "{:.2} m of {}, {width:.0} cm wide",
            length / 1000.0,
            cloth.name
        ),
        _ => format!("the left-over of {}", cloth.name),
    }
}

/// The most of a number, in words.
pub fn most_text(goods: &Goods, most: &Most) -> String {
    let number = Number::find(most.number);
    let shown = |value: f64| number.map_or_else(String::new, |number| number::shown(number, value));
    let there = on_hand(goods, most.room);
    let mut said = Vec::new();
    match &most.found {
        Some(found) => said.push(found_words(most, found, &there, &shown)),
        None if most.stopped => said.push(format!("{}: stopped before an answer.", most.label)),
        None => said.push(format!(
            "{}: no value was found with which the garment fits {there}.",
            most.label
        )),
    }
    match &most.missed {
        Some(missed) => said.push(missed_words(missed, &shown)),
        None if most.found.is_some() && !most.stopped => {
            said.push("More is not allowed whatever the cloth.".to_owned());
        }
        None => {}
    }
    if let Some(now) = most.now {
        said.push(format!("The garment as it stands has {}.", shown(now)));
    }
    let take = most.found.as_ref().and_then(take);
    said.extend(take);
    if most.stopped && most.found.is_some() {
        said.push("It was stopped: more may fit.".to_owned());
    }
    let lines = said.iter().flat_map(|line| set_in(line, ""));
    lines.collect::<Vec<_>>().join("\n") + "\n"
}

fn found_words(most: &Most, found: &Found, there: &str, shown: &dyn Fn(f64) -> String) -> String {
    let lay = &found.laid.lays[0].lay;
    format!(
        "{}: {} is the most that fits {there}. Its lay is proven: {}, {}.",
        most.label,
        shown(found.value),
        lay.way.title(),
        metres(lay.length)
    )
}

fn missed_words(missed: &Missed, shown: &dyn Fn(f64) -> String) -> String {
    let value = shown(missed.value);
    match &missed.why {
        Why::TooLong(Some(length)) => format!(
            "With {value} the shortest lay that was found takes {}.",
            metres(*length)
        ),
        Why::TooLong(None) => format!("With {value} no lay was found that fits."),
        Why::Impossible(bound) => format!(
            "With {value} no lay can be shorter than {:.2} m.",
            (bound / 10.0).floor() / 100.0
        ),
        Why::Refused(findings) => {
            let why: Vec<&str> = findings.iter().map(|one| one.message.as_str()).collect();
            format!("{value} is refused: {}", why.join("; "))
        }
    }
}

/// What to write to take the value.
fn take(found: &Found) -> Option<String> {
    let line = match found.mend.changes.first()? {
        Line::Property {
            statement,
            name,
            value,
        } => format!("{name}={value} behind “{}”", statement.shown()),
        Line::Value { statement, value } => format!("{value} behind “{}”", statement.shown()),
        _ => return None,
    };
    Some(format!("To take it, write {line} in the garment's file."))
}

/// Whether it fits, in words.
pub fn fits_text(pattern: &Pattern, goods: &Goods, fits: &Fits) -> String {
    let there = on_hand(goods, fits.room);
    let mut lines = Vec::new();
    if let Some(laid) = &fits.yes {
        let lay = &laid.lays[0].lay;
        let left = if fits.room.is_finite() {
            format!(
                " and leaves {:.0} mm besides what straightening takes",
                (fits.room - lay.length).floor()
            )
        } else {
            String::new()
        };
        lines.push(format!(
            "It fits {there}: laid {} it takes {}{left}.",
            lay.way.title(),
            metres(lay.length)
        ));
        return lines.join("\n") + "\n";
    }
    lines.push(format!("It does not fit {there}{}.", short_by(fits)));
    if fits.remedies.is_empty() {
        lines.push(
            "Nothing that was tried makes it fit: not a seam, not a style number a third smaller, not all changes together."
                .to_owned(),
        );
    } else {
        lines.push("Each of these makes it fit, proven by a lay:".to_owned());
    }
    let mut out: Vec<String> = lines.iter().flat_map(|line| set_in(line, "")).collect();
    for remedy in &fits.remedies {
        out.extend(set_in(&remedy_words(pattern, remedy), "  "));
    }
    if fits.stopped {
        out.push("It was stopped before everything was tried.".to_owned());
    }
    out.join("\n") + "\n"
}

fn short_by(fits: &Fits) -> String {
    match (fits.shortest, fits.impossible) {
        (_, Some(bound)) => format!(
            ": no lay can be shorter than {:.2} m, and {:.2} m are there once the ends are straight",
            (bound / 10.0).floor() / 100.0,
            (fits.room / 10.0).floor() / 100.0
        ),
        (Some(length), _) => format!(
            ": the shortest lay that was found takes {}, {:.0} mm too much",
            metres(length),
            (length - fits.room).ceil()
        ),
        _ => String::new(),
    }
}

fn remedy_words(pattern: &Pattern, remedy: &Remedy) -> String {
    let doings: Vec<String> = remedy
        .doings
        .iter()
        .map(|doing| match doing {
            Doing::Change(change) => {
                format!("{} ({})", change_words(pattern, change), cost(change))
            }
            Doing::Number {
                id,
                label,
                from,
                to,
                ..
            } => {
                let shown = |value: f64| {
                    Number::find(id).map_or_else(String::new, |number| number::shown(number, value))
                };
                format!(
                    "{} {} instead of {}",
                    label.to_lowercase(),
                    shown(*to),
                    shown(*from)
                )
            }
        })
        .collect();
    let lay = &remedy.laid.lays[0].lay;
    sentence(&format!(
        "{}: laid {} it takes {}.",
        listed(&doings),
        lay.way.title(),
        metres(lay.length)
    ))
}
