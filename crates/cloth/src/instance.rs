//! Reads a benchmark instance, the neutral form `neutral-strip-packing-1`: a strip, pieces, best published lays.
//!
//! Invariant: whatever the text holds, the answer is a sound problem, or a sentence with place, found and allowed.

use geometry::Point;
use serde_json::Value;

use crate::nest::{Fault, Item, PoseSpace, Problem, Turn};

/// Name of the form.
const FORMAT: &str = "neutral-strip-packing-1";
/// The most copies of all pieces; a lay of a garment has less than a hundred.
const MOST_PIECES: u64 = 10_000;

/// A benchmark.
#[derive(Clone, Debug, PartialEq)]
pub struct Instance {
    /// Its name.
    pub name: String,
    /// What is to be laid.
    pub problem: Problem,
    /// The best published density, percent, where the instance tells it.
    pub best_percent: Option<f64>,
}

/// Why a text is no instance.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Unread {
    /// It is no JSON.
    #[error("line {line}, column {column}: this is no JSON; correct it there")]
    Syntax {
        /// From 1.
        line: usize,
        /// From 1.
        column: usize,
    },
    /// Something is missing or of another kind.
    #[error("{place}: {found} stands where {allowed} must stand")]
    Value {
        /// Where, such as `items[3].demand`.
        place: String,
        /// What stands there.
        found: String,
        /// What may stand there.
        allowed: &'static str,
    },
    /// What it says cannot be laid.
    #[error("{0}")]
    Problem(#[from] Fault),
}

/// Reads an instance.
pub fn read(text: &str) -> Result<Instance, Unread> {
    let whole: Value = serde_json::from_str(text).map_err(|fault| Unread::Syntax {
        line: fault.line(),
        column: fault.column(),
    })?;
    let whole = At {
        value: &whole,
        place: String::new(),
    };
    let format = whole.part("format")?;
    if format.text()? != FORMAT {
        return Err(format.not("the name of the form, \"neutral-strip-packing-1\""));
    }
    let name = whole.part("name")?.text()?;
    let width = whole.part("strip_width")?.number()?;
    let mirrored = whole
        .part("reflection_allowed")
        .ok()
        .is_some_and(|part| part.value == &Value::Bool(true));
    let general = whole.part("allowed_rotations_deg").ok();
    let items = whole.part("items")?.list()?;
    let items = items
        .iter()
        .map(|item| read_item(item, general.as_ref(), mirrored))
        .collect::<Result<Vec<Item>, _>>()?;
    let pieces: u64 = items.iter().map(|item| item.demand as u64).sum();
    if pieces > MOST_PIECES {
        return Err(whole.part("items")?.not("at most 10000 copies in all"));
    }
    let best = whole
        .part("best_known")
        .and_then(|best| best.part("density_percent")?.number())
        .ok();
    Ok(Instance {
        name,
        problem: Problem::new(width, items, Vec::new())?,
        best_percent: best,
    })
}

fn read_item(item: &At<'_>, general: Option<&At<'_>>, mirrored: bool) -> Result<Item, Unread> {
    let id = item.part("id")?;
    let demand = item.part("demand")?.count()?;
    let turns = match item.part("rotations_deg") {
        Ok(own) => own.list()?,
        Err(missing) => general.ok_or(missing)?.list()?,
    };
    let degrees = turns
        .iter()
        .map(At::number)
        .collect::<Result<Vec<f64>, _>>()?;
    let faces: &[bool] = if mirrored { &[false, true] } else { &[false] };
    let turns = faces
        .iter()
        .flat_map(|&mirrored| {
            degrees
                .iter()
                .map(move |&degrees| Turn { degrees, mirrored })
        })
        .collect();
    let corners = item.part("vertices")?.list()?;
    let outline = corners
        .iter()
        .map(At::point)
        .collect::<Result<Vec<Point>, _>>()?;
    Ok(Item {
        name: format!("item {}", id.value),
        outline,
        demand,
        turns,
        space: PoseSpace::free(),
    })
}

/// A value and where it stands.
struct At<'a> {
    value: &'a Value,
    place: String,
}

impl<'a> At<'a> {
    fn part(&self, name: &str) -> Result<At<'a>, Unread> {
        let place = if self.place.is_empty() {
            name.to_owned()
        } else {
            format!("{}.{name}", self.place)
        };
        match self.value.get(name) {
            Some(value) => Ok(At { value, place }),
            None => Err(Unread::Value {
                place,
                found: "nothing".to_owned(),
                allowed: "a value",
            }),
        }
    }

    fn list(&self) -> Result<Vec<At<'a>>, Unread> {
        let list = self.value.as_array().ok_or_else(|| self.not("a list"))?;
        Ok(list
            .iter()
            .enumerate()
            .map(|(at, value)| At {
                value,
                place: format!("{}[{at}]", self.place),
            })
            .collect())
    }

    fn text(&self) -> Result<String, Unread> {
        self.value
            .as_str()
            .map(str::to_owned)
            .ok_or_else(|| self.not("a text"))
    }

    fn number(&self) -> Result<f64, Unread> {
        self.value.as_f64().ok_or_else(|| self.not("a number"))
    }

    fn count(&self) -> Result<usize, Unread> {
        let count = self.value.as_u64().filter(|&count| count <= MOST_PIECES);
        count
            .map(|count| count as usize)
            .ok_or_else(|| self.not("a whole number from 0 to 10000"))
    }

    fn point(&self) -> Result<Point, Unread> {
        match self.list()?.as_slice() {
            [x, y] => Ok(Point::new(x.number()?, y.number()?)),
            _ => Err(self.not("a list of two numbers, x and y,")),
        }
    }

    fn not(&self, allowed: &'static str) -> Unread {
        let mut found: String = self.value.to_string().chars().take(40).collect();
        if found.chars().count() == 40 {
            found.push('…');
        }
        Unread::Value {
            place: self.place.clone(),
            found,
            allowed,
        }
    }
}
