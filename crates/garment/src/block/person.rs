//! The body as a draft sees it: one number a measure, each of which can be nudged to see what follows from it.

use body::{Body, Measure};

/// A body, and perhaps one of its measures moved by a little.
#[derive(Clone, Copy, Debug)]
pub struct Person<'a> {
    body: &'a Body,
    nudge: Option<(Measure, f64)>,
}

impl<'a> Person<'a> {
    /// The body as it is.
    pub fn new(body: &'a Body) -> Self {
        Self { body, nudge: None }
    }

    /// The same body with one measure moved, mm or degrees.
    pub fn nudged(self, measure: Measure, by: f64) -> Self {
        Self {
            nudge: Some((measure, by)),
            ..self
        }
    }

    /// A measure, mm or degrees.
    pub fn of(&self, measure: Measure) -> f64 {
        let by = self
            .nudge
            .filter(|(nudged, _)| *nudged == measure)
            .map_or(0.0, |(_, by)| by);
        self.body.mm(measure) + by
    }

    /// Standard deviation of a measure, mm or degrees.
    pub fn spread(&self, measure: Measure) -> f64 {
        self.body.sd(measure)
    }

    /// Whether a measure was taped.
    pub fn taped(&self, measure: Measure) -> bool {
        self.body.is_measured(measure)
    }

    /// Front share of a girth: from the front arc where it was taped, otherwise the share by rule.
    pub fn front_share(&self, girth: Measure, arc: Measure, by_rule: f64) -> f64 {
        if self.taped(arc) {
            (self.of(arc) / self.of(girth)).clamp(0.35, 0.65)
        } else {
            by_rule
        }
    }
}
