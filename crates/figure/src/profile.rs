//! The outline of a body seen from its side, facing right.
//!
//! Knows the form; no paper and no measure's place. Forward to the right, height downward, mm. Invariant: front and back meet
//! only at the crown and at the toes, so that they make one simple closed outline.

use geometry::{Curve, Knot, Point, Tolerance, Vec2};

use crate::form::{Form, place};

const DOWN: Vec2 = Vec2::new(0.0, 1.0);
const RIGHT: Vec2 = Vec2::new(1.0, 0.0);

/// A body seen from its side.
#[derive(Clone, Debug)]
pub(crate) struct Profile {
    /// From the crown down the front to the toes.
    pub(crate) front: Curve,
    /// From the toes along the sole to the heel.
    pub(crate) sole: Curve,
    /// From the heel up the back to the crown.
    pub(crate) back: Curve,
}

impl Profile {
    pub(crate) fn of(form: &Form) -> Self {
        let front = smooth(&front(form));
        let back = smooth(&back(form));
        Self {
            sole: Curve::line(front.end(), back.start()),
            front,
            back,
        }
    }

    /// One closed outline from the crown.
    pub(crate) fn outline(&self) -> Vec<Curve> {
        vec![self.front.clone(), self.sole.clone(), self.back.clone()]
    }

    /// The front between two heights, downward.
    pub(crate) fn front_between(&self, high: f64, low: f64) -> Curve {
        let (from, to) = (along(&self.front, high), along(&self.front, low));
        self.front.stretch(from, to)
    }

    /// The back between two heights, downward.
    pub(crate) fn back_between(&self, high: f64, low: f64) -> Curve {
        let (from, to) = (along(&self.back, low), along(&self.back, high));
        self.back.stretch(from, to).reversed()
    }

    /// How far forward the front lies at a height.
    pub(crate) fn front_at(&self, height: f64) -> f64 {
        self.front.point_at(along(&self.front, height)).x
    }

    /// How far forward the back lies at a height.
    pub(crate) fn back_at(&self, height: f64) -> f64 {
        self.back.point_at(along(&self.back, height)).x
    }
}

/// How far along a side it comes to a height, from its start.
fn along(side: &Curve, height: f64) -> f64 {
    let met = side.crossings_with_line(place(0.0, height), RIGHT, Tolerance::DRAWING);
    met.first().map_or(0.0, |met| met.along)
}

fn smooth(knots: &[Knot]) -> Curve {
    Curve::smooth(knots).expect("the places of a figure lie apart")
}

/// A level of the form: its height, how far back and how far forward it reaches.
struct Depth {
    height: f64,
    back: f64,
    front: f64,
}

fn knee(form: &Form) -> Depth {
    let depth = 1.06 * form.leg.knee;
    Depth {
        height: form.heights.knee,
        back: 2.0 - 0.48 * depth,
        front: 2.0 + 0.52 * depth,
    }
}

fn calf(form: &Form) -> Depth {
    let depth = 1.04 * form.leg.calf;
    Depth {
        height: 0.74 * form.heights.knee,
        back: -12.0 - 0.52 * depth,
        front: -12.0 + 0.48 * depth,
    }
}

fn ankle(form: &Form) -> Depth {
    let depth = 1.12 * form.leg.ankle;
    Depth {
        height: 0.062 * form.heights.top,
        back: -24.0 - 0.5 * depth,
        front: -24.0 + 0.5 * depth,
    }
}

fn front(form: &Form) -> Vec<Knot> {
    let heights = &form.heights;
    let (knee, calf, ankle) = (knee(form), calf(form), ankle(form));
    let mut knots = head_front(form);
    knots.extend([
        Knot::free(place(form.neck.hollow, heights.hollow)),
        Knot::free(place(form.chest.front() - 4.0, heights.armpit)),
        Knot::toward(place(form.bust.front(), heights.bust), DOWN),
        Knot::free(place(form.under_bust.front(), heights.under_bust)),
        Knot::free(place(form.waist.front(), heights.waist)),
        Knot::free(place(form.high_hip.front(), heights.high_hip)),
        Knot::free(place(form.hip.front(), heights.hip)),
        Knot::free(place(form.thigh.front(), form.thigh_height() - 30.0)),
        Knot::free(place(knee.front, knee.height)),
        Knot::free(place(calf.front, calf.height)),
        Knot::free(place(ankle.front, ankle.height)),
        Knot::free(toe(form) + Vec2::new(-26.0, -0.018 * heights.top)),
        Knot::toward(toe(form), DOWN - RIGHT * 0.6),
    ]);
    knots
}

/// Where the sole leaves the floor at the toes.
fn toe(form: &Form) -> Point {
    place(-24.0 + 0.115 * form.heights.top, 0.0)
}

fn back(form: &Form) -> Vec<Knot> {
    let heights = &form.heights;
    let (knee, calf, ankle) = (knee(form), calf(form), ankle(form));
    let heel = place(ankle.back + 6.0, 0.0);
    let mut knots = vec![
        Knot::toward(heel, -RIGHT - DOWN * 0.5),
        Knot::free(place(ankle.back - 5.0, 0.018 * heights.top)),
        Knot::free(place(ankle.back, ankle.height)),
        Knot::free(place(calf.back, calf.height)),
        Knot::free(place(knee.back, knee.height)),
        Knot::free(place(form.thigh.back(), form.thigh_height() - 30.0)),
        Knot::toward(place(form.hip.back(), heights.hip), -DOWN),
        Knot::free(place(form.high_hip.back(), heights.high_hip)),
        Knot::free(place(form.waist.back(), heights.waist)),
        Knot::free(place(form.bust.back(), heights.bust)),
        Knot::free(place(form.chest.back(), heights.armpit)),
        Knot::free(place(form.neck.nape, heights.nape)),
    ];
    knots.extend(head_back(form));
    knots
}

/// From the crown over the face to the throat.
fn head_front(form: &Form) -> Vec<Knot> {
    let heights = &form.heights;
    let at = head_place(form);
    let throat = place(form.neck.nape + 24.0 + form.neck.depth, heights.chin - 12.0);
    vec![
        Knot::toward(at(0.0, 0.0), RIGHT),
        Knot::free(at(0.82, 0.21)),
        Knot::toward(at(1.0, 0.5), DOWN),
        Knot::free(at(0.97, 0.78)),
        Knot::toward(at(0.8, 0.985), DOWN * 0.16 - RIGHT),
        Knot::toward(throat, DOWN * 0.9 - RIGHT * 0.5),
    ]
}

/// From the neck over the back of the head to the crown.
fn head_back(form: &Form) -> Vec<Knot> {
    let at = head_place(form);
    vec![
        Knot::free(at(-0.62, 0.85)),
        Knot::toward(at(-1.0, 0.4), -DOWN),
        Knot::toward(at(0.0, 0.0), RIGHT),
    ]
}

/// Places of the head: forward from its middle in half depths, down from the crown in head heights.
fn head_place(form: &Form) -> impl Fn(f64, f64) -> Point {
    let heights = form.heights;
    let middle = form.head.side();
    let half = form.head.front() - middle;
    move |forward, down| {
        place(
            middle + forward * half,
            heights.top - down * (heights.top - heights.chin),
        )
    }
}
