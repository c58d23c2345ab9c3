//! Finding handles: each number is changed a little, and what moved is compared.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::thread;

use document::mend::apply;
use document::{Change, Finding, Source, Span};
use garment::recipe::numbers::{Measure, Number, Reading, Slot};
use garment::recipe::{AskedValue, Step};
use geometry::{Point, Vec2};
use making::draft::Draft;
use pattern::Pattern;
use pattern::step::{Kind, Value};

use super::new::New;
use super::{Handle, Spot, Which};
use crate::desk::Drafted;
use crate::view::numbers::{self, step_bounds, step_id, written_length};
use crate::view::steps::in_bases;
use crate::view::units::Units;

/// How much a length is changed to see what it moves, mm.
const NUDGE: f64 = 8.0;
/// A ratio.
const NUDGE_RATIO: f64 = 0.1;
/// An angle, degrees.
const NUDGE_ANGLE: f64 = 3.0;
/// What moves less than this share of a millimetre for a millimetre is no handle.
const LEAST: f64 = 0.12;
/// Ways that differ by less than this (the cosine of 25°) are one way.
const SAME_WAY: f64 = 0.9;
/// How far from its point a handle is held where another one is held at the point itself, mm.
const GRIP: f64 = 20.0;
/// Points nearer than this are one place, mm.
const SAME_PLACE: f64 = 8.0;

/// A number that can be turned by a hand.
#[derive(Clone, Debug)]
pub(crate) enum Turned {
    /// A number of the recipe.
    Recipe(&'static Number),
    /// A parameter of one of its own steps: number of the step, and how it is called.
    Step(usize, &'static str),
    /// A step that is added by the first pull.
    New(New),
}

impl Turned {
    /// All that have a value now; words and whole numbers are not turned by a hand.
    pub(crate) fn all(drafted: &Drafted, draft: &Draft) -> Vec<Self> {
        let recipe = Number::of(&draft.recipe)
            .filter(|(number, reading)| {
                let turns = matches!(number.measure, Measure::Length(..) | Measure::Ratio(..));
                turns && matches!(reading, Reading::Number(_)) && !is_behind(number)
            })
            .map(|(number, _)| Self::Recipe(number));
        let own = in_bases(draft, &drafted.source);
        let steps = draft.recipe.steps.iter().enumerate().skip(own);
        let steps = steps
            .filter(|(_, step)| !step.off)
            .flat_map(|(index, step)| {
                let turns =
                    |kind| matches!(kind, Kind::Length(..) | Kind::Angle(..) | Kind::Number(..));
                let asked = step.asked.iter().filter(move |asked| {
                    let parameter = step.kind.parameter(asked.name);
                    parameter.is_some_and(|one| turns(one.kind) && !one.many)
                });
                asked.map(move |asked| Self::Step(index, asked.name))
            });
        let new = New::all(drafted, draft).into_iter().map(Self::New);
        recipe.chain(steps).chain(new).collect()
    }

    /// Where its value stands in the garment's own text, if it is written there as one value.
    fn span(&self, drafted: &Drafted, draft: &Draft) -> Option<Span> {
        match self {
            Self::Recipe(number) => {
                let own = drafted.entry.as_ref()?;
                let lone = |path: &[&str]| {
                    let entry = path.iter().try_fold(own, |entry, name| entry.child(name))?;
                    (number.slot != Slot::Value || entry.arguments().len() == 1).then_some(())
                };
                lone(number.path)?;
                number.written(own).map(|value| value.span().clone())
            }
            Self::Step(index, parameter) => {
                let step = draft.recipe.steps.get(*index)?;
                let mut asked = step.asked.iter().filter(|asked| asked.name == *parameter);
                match (asked.next(), asked.next()) {
                    (Some(one), None) => Some(one.span.clone()),
                    _ => None,
                }
            }
            Self::New(_) => None,
        }
    }

    /// Whether it is a number of what is sewn on the outside.
    fn is_of_a_part(&self) -> bool {
        matches!(self, Self::Recipe(number) if number.id.starts_with("pocket."))
    }

    /// The point at which it is held and nowhere else, if there is one.
    fn own_point(&self) -> Option<Which> {
        match self {
            Self::New(New::DartEnd(_, dart)) => Some(Which::Dart(dart.clone())),
            Self::New(New::BustUp | New::BustOut) => Some(Which::Mark("bust-point".to_owned())),
            Self::Recipe(number) => {
                let notch = match number.id {
                    "pocket.below-waist" => "pocket-top",
                    "pocket.opening" => "pocket-bottom",
                    _ => return None,
                };
                Some(Which::Notch(notch.to_owned()))
            }
            Self::Step(..) => None,
        }
    }

    /// Whether it says how far the garment stands off the body.
    fn is_ease(&self) -> bool {
        matches!(self, Self::Recipe(number) if number.id.starts_with("ease."))
    }

    pub(crate) fn id(&self) -> String {
        match self {
            Self::Recipe(number) => number.id.to_owned(),
            Self::Step(index, parameter) => step_id(*index, parameter),
            Self::New(new) => new.id(),
        }
    }

    /// By what it is known again: its id and, of a step, which step it is.
    pub(super) fn key(&self, draft: &Draft) -> String {
        match self {
            Self::Recipe(_) | Self::New(_) => self.id(),
            Self::Step(index, parameter) => {
                format!(
                    "{index}.{}.{parameter}",
                    draft.recipe.steps[*index].kind.name
                )
            }
        }
    }

    pub(crate) fn label(&self, draft: &Draft) -> String {
        match self {
            Self::Recipe(number) => number.label.to_owned(),
            Self::Step(index, parameter) => {
                let step = &draft.recipe.steps[*index];
                let name = making::words::sentence(&making::words::spoken(step.kind.name));
                format!("{name}: {}", making::words::spoken(parameter))
            }
            Self::New(new) => new.label(),
        }
    }

    /// Its value now, in its own unit.
    pub(crate) fn value(&self, draft: &Draft) -> Option<f64> {
        match self {
            Self::Recipe(number) => match (number.reading)(&draft.recipe)? {
                Reading::Number(value) => Some(value),
                Reading::Word(_) | Reading::Open => None,
            },
            Self::Step(index, parameter) => of_step(draft.recipe.steps.get(*index)?, parameter),
            Self::New(new) => new.value(draft),
        }
    }

    pub(crate) fn bounds(&self, draft: &Draft) -> Option<(f64, f64)> {
        match self {
            Self::Recipe(number) => number.bounds(),
            Self::Step(index, parameter) => {
                let step = draft.recipe.steps.get(*index)?;
                step_bounds(step.kind.parameter(parameter)?.kind)
            }
            Self::New(new) => Some(new.bounds()),
        }
    }

    fn unit(&self, draft: &Draft) -> Unit {
        let of_kind = |kind: Kind| match kind {
            Kind::Length(..) => Unit::Length,
            Kind::Angle(..) => Unit::Angle,
            _ => Unit::Ratio,
        };
        match self {
            Self::Recipe(number) => match number.measure {
                Measure::Length(..) => Unit::Length,
                _ => Unit::Ratio,
            },
            Self::Step(index, parameter) => {
                let step = draft.recipe.steps.get(*index);
                let parameter = step.and_then(|step| step.kind.parameter(parameter));
                parameter.map_or(Unit::Ratio, |parameter| of_kind(parameter.kind))
            }
            Self::New(_) => Unit::Length,
        }
    }

    pub(crate) fn shown(&self, draft: &Draft, units: Units) -> String {
        self.value(draft)
            .map_or_else(String::new, |value| self.shown_value(draft, value, units))
    }

    /// A value of it as a person reads it.
    pub(crate) fn shown_value(&self, draft: &Draft, value: f64, units: Units) -> String {
        match self.unit(draft) {
            Unit::Length => units.length(value),
            Unit::Ratio => numbers::plain(value),
            Unit::Angle => format!("{}°", numbers::plain(value)),
        }
    }

    /// The nearest value that a person would write.
    pub(crate) fn neat(&self, draft: &Draft, value: f64, units: Units) -> f64 {
        let step = match self.unit(draft) {
            Unit::Length => units.written_step(),
            Unit::Ratio => 0.01,
            Unit::Angle => 0.5,
        };
        let neat = (value / step).round() * step;
        match self.bounds(draft) {
            Some((least, most)) => neat.clamp(least, most),
            None => neat,
        }
    }

    /// The change of the text that gives it a value.
    pub(crate) fn change(&self, draft: &Draft, value: f64, units: Units) -> Change {
        let value = match self.unit(draft) {
            Unit::Length => written_length(value, units),
            Unit::Ratio => numbers::plain(value),
            Unit::Angle => format!("\"{} deg\"", numbers::plain(value)),
        };
        match self {
            Self::Recipe(number) => match number.slot {
                Slot::Value => Change::Value {
                    statement: number.path.into(),
                    value,
                },
                Slot::Property(name) => Change::Property {
                    statement: number.path.into(),
                    name: name.to_owned(),
                    value,
                },
            },
            Self::Step(index, parameter) => Change::Property {
                statement: crate::rewrite::step_path(&draft.recipe.steps, *index),
                name: (*parameter).to_owned(),
                value,
            },
            Self::New(new) => new.change(&value),
        }
    }

    fn nudge(&self, draft: &Draft) -> f64 {
        match self.unit(draft) {
            Unit::Length => NUDGE,
            Unit::Ratio => NUDGE_RATIO,
            Unit::Angle => NUDGE_ANGLE,
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Unit {
    Length,
    Ratio,
    Angle,
}

/// Whether a number says only what lies behind or beyond the seam lines of the outside, so that no point there moves.
fn is_behind(number: &Number) -> bool {
    let behind = ["allowances.", "hems.", "facings.", "lining."];
    behind.iter().any(|group| number.id.starts_with(group))
}

fn of_step(step: &Step, parameter: &str) -> Option<f64> {
    let asked = step.asked.iter().find(|asked| asked.name == parameter)?;
    match &asked.value {
        AskedValue::Ready(Value::Length(mm)) => Some(*mm),
        AskedValue::Ready(Value::Angle(angle)) => Some(angle.degrees()),
        AskedValue::Ready(Value::Number(number)) => Some(*number),
        _ => None,
    }
}

/// The handles of all numbers that move something.
pub(super) fn handles(drafted: &Drafted, draft: &Draft, turned: &[Turned]) -> Vec<Handle> {
    let before: BTreeMap<Spot, Point> = Spot::all(&draft.garment.pattern).into_iter().collect();
    // What a style is made of is held first; ease takes what points are left.
    let (ease, style): (Vec<&Turned>, Vec<&Turned>) = turned.iter().partition(|one| one.is_ease());
    let ordered: Vec<&Turned> = style.into_iter().chain(ease).collect();
    let moves = moves_of_all(drafted, draft, &ordered, &before);
    let mut handles: Vec<(Handle, Point)> = Vec::new();
    for (one, moves) in ordered.into_iter().zip(moves) {
        let near = |(spot, at, _): &(Spot, Point, Vec2), (other, there): &(Handle, Point)| {
            other.spot.piece == spot.piece && at.distance(*there) < SAME_PLACE
        };
        let same_way = |(_, _, motion): &(Spot, Point, Vec2), (other, _): &(Handle, Point)| {
            other.motion.normalize().dot(motion.normalize()).abs() > SAME_WAY
        };
        let most = moves
            .first()
            .map_or(0.0, |(spot, _, motion)| worth(spot, motion.hypot()));
        let own = one.own_point();
        // A place of its own that moves half as plainly is better than a better one that is taken.
        let alone = moves.iter().find(|one| {
            own.is_none()
                && worth(&one.0, one.2.hypot()) > most * 0.5
                && !handles.iter().any(|held| near(one, held))
        });
        let beside = || {
            let free = |one: &&(Spot, Point, Vec2)| {
                own.as_ref().is_none_or(|own| *own == one.0.point)
                    && !handles
                        .iter()
                        .any(|held| near(one, held) && same_way(one, held))
            };
            moves.iter().find(free)
        };
        if let Some(found) = alone.or_else(beside) {
            // Where another handle is held already, this one is held a little further on its way.
            let is_taken = handles.iter().any(|held| near(found, held));
            let (spot, at, motion) = found;
            let handle = Handle {
                turned: one.clone(),
                spot: spot.clone(),
                motion: *motion,
                grip: motion.normalize() * if is_taken { GRIP } else { 0.0 },
            };
            handles.push((handle, *at));
        }
    }
    handles.into_iter().map(|(handle, _)| handle).collect()
}

/// What each number moves; several are tried at once where the machine can.
fn moves_of_all(
    drafted: &Drafted,
    draft: &Draft,
    turned: &[&Turned],
    before: &BTreeMap<Spot, Point>,
) -> Vec<Moves> {
    let hands = thread::available_parallelism()
        .map_or(1, usize::from)
        .min(4);
    let share = turned.len().div_ceil(hands).max(1);
    let try_all = |turned: &[&Turned]| -> Vec<Moves> {
        let each = turned.iter();
        each.map(|one| moves(drafted, draft, one, before).unwrap_or_default())
            .collect()
    };
    thread::scope(|scope| {
        let shares: Vec<_> = turned
            .chunks(share)
            .map(|share| (share, scope.spawn(move || try_all(share))))
            .collect();
        let done = shares.into_iter().map(|(share, trying)| {
            // A number that could not be tried has no handle.
            trying
                .join()
                .unwrap_or_else(|_| vec![Vec::new(); share.len()])
        });
        done.flatten().collect()
    })
}

/// Points that a number moves, each with its motion for one unit of the number.
type Moves = Vec<(Spot, Point, Vec2)>;

/// Every point that a number moves steadily, the plainest first, with its motion for one unit of the number.
///
/// The number is changed both ways: a point that turns back or runs off elsewhere would slip out of the hand.
fn moves(
    drafted: &Drafted,
    draft: &Draft,
    one: &Turned,
    before: &BTreeMap<Spot, Point>,
) -> Option<Moves> {
    let (value, nudge) = (one.value(draft)?, one.nudge(draft));
    // A step that is added does something even where it changes no number: it is compared with itself.
    let added = match one {
        Turned::New(_) => Some(nudged(drafted, draft, one, value)?),
        Turned::Recipe(_) | Turned::Step(..) => None,
    };
    let added: Option<BTreeMap<Spot, Point>> =
        added.map(|pattern| Spot::all(&pattern).into_iter().collect());
    let from = added.as_ref().unwrap_or(before);
    let (least, most) = one.bounds(draft)?;
    let [up, down] = [(value + nudge).min(most), (value - nudge).max(least)];
    let ways: Vec<BTreeMap<Spot, Vec2>> = [up, down]
        .into_iter()
        .filter(|to| (to - value).abs() > nudge * 0.2)
        .filter_map(|to| {
            let after = nudged(drafted, draft, one, to)?;
            Some(motions(from, &after, to - value))
        })
        .collect();
    let (first, others) = ways.split_first()?;
    let scale = if one.unit(draft) == Unit::Length {
        1.0
    } else {
        nudge / NUDGE
    };
    let mut moves: Moves = first
        .iter()
        .filter(|(spot, motion)| {
            let steady = |other: &BTreeMap<Spot, Vec2>| {
                other
                    .get(spot)
                    .is_some_and(|other| is_steady(**motion, *other))
            };
            motion.hypot() * scale >= LEAST && others.iter().all(steady)
        })
        .filter_map(|(spot, motion)| Some((spot.clone(), *before.get(spot)?, *motion)))
        .collect();
    let most = moves
        .iter()
        .map(|(_, _, motion)| motion.hypot())
        .fold(0.0, f64::max);
    let pieces = &draft.garment.pattern.pieces;
    moves.sort_by(|one, other| {
        let rank = |(spot, _, motion): &(Spot, Point, Vec2)| worth(spot, motion.hypot() / most);
        let place = |(spot, ..): &(Spot, Point, Vec2)| {
            pieces.iter().position(|piece| piece.name == spot.piece)
        };
        rank(other)
            .total_cmp(&rank(one))
            .then_with(|| place(one).cmp(&place(other)))
    });
    Some(moves)
}

/// How each point that is there before and after moved, for one unit of the number.
fn motions(before: &BTreeMap<Spot, Point>, after: &Pattern, by: f64) -> BTreeMap<Spot, Vec2> {
    let points = Spot::all(after).into_iter();
    points
        .filter_map(|(spot, now)| {
            let was = *before.get(&spot)?;
            Some((spot, (now - was) / by))
        })
        .collect()
}

/// Whether two motions of a point are as good as one: nearly the same way, and neither twice the other.
fn is_steady(one: Vec2, other: Vec2) -> bool {
    let (a, b) = (one.hypot(), other.hypot());
    a < 2.0 * b && b < 2.0 * a && one.dot(other) > SAME_WAY * a * b
}

/// How good a handle a point is: one that moves as far as any; marked points and corners before middles of edges.
fn worth(spot: &Spot, share: f64) -> f64 {
    let plain = match spot.point {
        Which::Mark(_) | Which::Dart(_) | Which::Notch(_) => 1.0,
        Which::Corner(_) => 0.95,
        Which::Middle(_) => 0.8,
    };
    // What moves nearly as far is as good.
    (share * 10.0).round() / 10.0 * plain
}

/// The garment with a number changed, without looking at what is found.
fn nudged(drafted: &Drafted, draft: &Draft, one: &Turned, value: f64) -> Option<Pattern> {
    let source = with_value(drafted, draft, one, value, Units::Metric).ok()?;
    drafted.unchecked(&source, !one.is_of_a_part()).ok()
}

/// The text with a number at a value: put where the old one stands, or written anew where none does.
pub(super) fn with_value(
    drafted: &Drafted,
    draft: &Draft,
    one: &Turned,
    value: f64,
    units: Units,
) -> Result<Arc<Source>, Finding> {
    let change = one.change(draft, value, units);
    let text = match (one.span(drafted, draft), &change) {
        (Some(span), Change::Property { value, .. } | Change::Value { value, .. }) => {
            let text = &drafted.source.text;
            format!("{}{value}{}", &text[..span.start], &text[span.end..])
        }
        _ => apply(&drafted.source, &drafted.bases, &[change])?,
    };
    Ok(Source::new(drafted.source.name.clone(), text))
}
