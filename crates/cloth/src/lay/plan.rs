//! What lies in which section when the cloth is folded in a way.
//!
//! Knows kinds, slots and the cloth as it is laid. Invariant: every copy of every kind stands in one slot of one stage.

use document::Finding;
use geometry::Point;

use super::kind::{Cut, Kind};
use super::slot::{Rules, Slot};
use super::{Part, Way, Wishes, bounds, outward};
use crate::goods::{Bars, Cloth};
use crate::nest::{Area, Fault, Problem, Repeat};

/// How much longer than its area a lay is guessed to be, where that must be known beforehand.
const GUESS: f64 = 1.15;

/// A way to lay, section by section.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    pub(super) way: Way,
    pub(super) stages: Vec<Stage>,
}

/// A section before it is laid.
#[derive(Clone, Debug)]
pub(super) struct Stage {
    /// How it is folded.
    pub(super) way: Way,
    /// What lies on it.
    pub(super) slots: Vec<Slot>,
    /// Where y = 0 lies across the cloth.
    pub(super) edge: f64,
    /// Width as it lies.
    pub(super) width: f64,
    /// How much of it lies double.
    pub(super) double: f64,
    /// The length that a left-over has.
    pub(super) limit: Option<f64>,
}

/// The plan of a way; none where it would not differ from lying open, a finding where the cloth forbids it.
pub(super) fn plan(
    kinds: &[Kind],
    cloth: &Cloth,
    way: Way,
    wishes: &Wishes,
) -> Result<Option<Plan>, Finding> {
    if way != Way::Open {
        may_be_folded(cloth, way)?;
    }
    let rules = Rules::of(cloth, wishes.grain_tolerance);
    let planner = Planner {
        kinds,
        cloth,
        rules,
    };
    let stages = match way {
        Way::Open => Some(vec![planner.open(&|_| true)]),
        Way::Lengthwise => planner.lengthwise(),
        Way::Crosswise => planner.crosswise(),
        Way::Partly => planner.partly(),
    };
    let Some(mut stages) = stages else {
        return Ok(None);
    };
    stages.retain(|stage| !stage.slots.is_empty());
    for stage in &mut stages {
        let slots = std::mem::take(&mut stage.slots);
        let split = slots.into_iter();
        stage.slots = split
            .flat_map(|slot| slot.split(kinds, &wishes.held))
            .collect();
    }
    Ok(Some(Plan { way, stages }))
}

fn may_be_folded(cloth: &Cloth, way: Way) -> Result<(), Finding> {
    let name = &cloth.name;
    if cloth.outline.is_some() {
        return Err(Finding::note(
            "left-over-not-folded",
            format!("the {name} is a left-over of odd outline and is laid open only"),
        )
        .because("where a fold would run on it is not known")
        .cure("lay it open, or describe the part to be folded as a cloth of its own"));
    }
    if way == Way::Crosswise && (cloth.direction.is_one_way() || cloth.repeats.uneven) {
        return Err(Finding::note(
            "crosswise-against-nap",
            format!("the {name} runs one way and is not folded crosswise"),
        )
        .because("folded crosswise, the lower layer runs against the upper one")
        .cure("fold it lengthwise or lay it open"));
    }
    if way == Way::Crosswise && !cloth.flaws.is_empty() {
        return Err(Finding::note(
            "crosswise-over-flaws",
            format!("the {name} has flaws and is not folded crosswise"),
        )
        .because("where the fold comes to lie depends on the lay, and with it where the flaws of the lower layer do")
        .cure("fold it lengthwise or lay it open"));
    }
    Ok(())
}

struct Planner<'a> {
    kinds: &'a [Kind],
    cloth: &'a Cloth,
    rules: Rules,
}

impl Planner<'_> {
    fn slot(&self, kind: usize, part: Part, copies: std::ops::Range<usize>) -> Slot {
        Slot::new(self.kinds, kind, part, copies, self.rules)
    }

    /// A single layer with the kinds that are picked.
    fn open(&self, pick: &dyn Fn(&Kind) -> bool) -> Stage {
        let mut slots = Vec::new();
        for (index, kind) in self.kinds.iter().enumerate().filter(|(_, kind)| pick(kind)) {
            slots.extend(self.singly(index, kind));
        }
        let (edge, width, limit) = self.open_bounds();
        Stage {
            way: Way::Open,
            slots,
            edge,
            width,
            double: 0.0,
            limit,
        }
    }

    /// The copies of a kind in a single layer: left and right apart.
    fn singly(&self, index: usize, kind: &Kind) -> Vec<Slot> {
        let half = kind.count.div_ceil(2);
        match kind.cut {
            Cut::Pair => vec![
                self.slot(index, Part::AsDrawn, 0..half),
                self.slot(index, Part::Mirrored, half..kind.count),
            ],
            Cut::Single => vec![self.slot(index, Part::Single, 0..kind.count)],
            Cut::OnFold | Cut::AcrossFold => vec![self.slot(index, Part::Whole, 0..kind.count)],
        }
    }

    fn open_bounds(&self) -> (f64, f64, Option<f64>) {
        match &self.cloth.outline {
            None => (self.cloth.selvedge, self.cloth.usable_width(), None),
            Some(outline) => {
                let [low, high] = bounds(outline);
                (low.y, high.y - low.y, Some(high.x - low.x))
            }
        }
    }

    /// Along the middle, or along the main bar next to it.
    fn lengthwise(&self) -> Option<Vec<Stage>> {
        let cloth = self.cloth;
        let middle = cloth.width / 2.0;
        let fold = cloth.repeats.across.map_or(middle, |bars| {
            bars.from + ((middle - bars.from) / bars.every).round() * bars.every
        });
        let half = fold.min(cloth.width - fold) - cloth.selvedge;
        let mut slots = Vec::new();
        for (index, kind) in self.kinds.iter().enumerate() {
            match kind.cut {
                _ if kind.on_fold() => {
                    slots.push(self.slot(index, Part::OnFold, 0..kind.count));
                }
                Cut::Pair => slots.extend(self.through_both(index, kind)),
                Cut::OnFold | Cut::Single | Cut::AcrossFold => {}
            }
        }
        let folded = Stage {
            way: Way::Lengthwise,
            slots,
            edge: fold,
            width: half,
            double: half,
            limit: None,
        };
        let rest = self.open(&|kind| kind.cut != Cut::Pair && !kind.on_fold());
        (!folded.slots.is_empty() && half > 0.0).then_some(vec![folded, rest])
    }

    /// Pairs through two layers; what is odd of them is not there.
    fn through_both(&self, index: usize, kind: &Kind) -> Option<Slot> {
        let copies = kind.count / 2;
        (copies > 0).then(|| self.slot(index, Part::Both, 0..copies))
    }

    fn crosswise(&self) -> Option<Vec<Stage>> {
        let pairs = self.kinds.iter().enumerate();
        let pairs = pairs.filter(|(_, kind)| kind.cut == Cut::Pair);
        let folded = Stage {
            way: Way::Crosswise,
            slots: pairs
                .filter_map(|(index, kind)| self.through_both(index, kind))
                .collect(),
            edge: self.cloth.selvedge,
            width: self.cloth.usable_width(),
            double: self.cloth.usable_width(),
            limit: None,
        };
        let rest = self.open(&|kind| kind.cut != Cut::Pair);
        (!folded.slots.is_empty()).then_some(vec![folded, rest])
    }

    /// Along a line as far from one selvedge as the pieces on the fold need.
    fn partly(&self) -> Option<Vec<Stage>> {
        let cloth = self.cloth;
        let on_fold = self.kinds.iter().filter(|kind| kind.on_fold());
        let deep = |kind: &Kind| bounds(&kind.ring).map(|corner| corner.y.abs());
        let needed = on_fold
            .map(|kind| deep(kind)[0].max(deep(kind)[1]))
            .fold(0.0, f64::max);
        if needed == 0.0 {
            return None;
        }
        // A hair more than the deepest piece, so that it has room in any rounding.
        let mut fold = cloth.selvedge + needed + 0.01;
        if let Some(bars) = cloth.repeats.across {
            fold = next_bar(bars, fold);
        }
        let double = fold - cloth.selvedge;
        let width = cloth.width - cloth.selvedge - fold;
        if width <= 1.2 * double {
            // Nearly all of it would lie double: that is folding lengthwise.
            return None;
        }
        let mut stage = Stage {
            way: Way::Partly,
            slots: Vec::new(),
            edge: fold,
            width,
            double,
            limit: None,
        };
        self.share_out(&mut stage);
        Some(vec![stage])
    }

    /// Pieces on the fold, pairs beside them in the double part as far as they find room there, everything else beyond.
    fn share_out(&self, stage: &mut Stage) {
        let far = f64::INFINITY;
        let doubled = Area {
            low: [0.0, 0.0],
            high: [far, stage.double],
        };
        let beyond = Area {
            low: [0.0, stage.double],
            high: [far, far],
        };
        let long = |kind: &Kind| {
            let [low, high] = bounds(&kind.ring);
            high.x - low.x
        };
        let area: f64 = self.kinds.iter().map(Kind::area).sum();
        let on_fold = self.kinds.iter().filter(|kind| kind.on_fold());
        let taken: f64 = on_fold.map(|kind| long(kind) * kind.count as f64).sum();
        let mut free = GUESS * area / self.cloth.usable_width() - taken;
        for (index, kind) in self.kinds.iter().enumerate() {
            let [low, high] = bounds(&kind.ring);
            let copies = (kind.count / 2) as f64;
            let fits = high.y - low.y < stage.double && long(kind) * copies <= free;
            match kind.cut {
                _ if kind.on_fold() => {
                    let slot = self.slot(index, Part::OnFold, 0..kind.count);
                    stage.slots.push(slot.within(doubled));
                }
                Cut::Pair if fits => {
                    free -= long(kind) * copies;
                    let slots = self.through_both(index, kind).into_iter();
                    stage.slots.extend(slots.map(|slot| slot.within(doubled)));
                }
                _ => {
                    let slots = self.singly(index, kind).into_iter();
                    stage.slots.extend(slots.map(|slot| slot.within(beyond)));
                }
            }
        }
    }
}

/// The first main bar at or behind a place.
fn next_bar(bars: Bars, place: f64) -> f64 {
    bars.from + ((place - bars.from) / bars.every).ceil() * bars.every
}

impl Stage {
    /// The number of copies on it.
    pub(super) fn copies(&self) -> usize {
        self.slots.iter().map(|slot| slot.copies.len()).sum()
    }

    /// What is to be searched when x = 0 lies so far along the cloth.
    pub(super) fn problem(
        &self,
        kinds: &[Kind],
        holds: &[[bool; 2]],
        cloth: &Cloth,
        from: f64,
    ) -> Result<Problem, Fault> {
        let repeats = self.repeats(cloth, from);
        let items = self.slots.iter().map(|slot| {
            let holds = holds[slot.kind];
            slot.item(
                kinds,
                [
                    repeats[0].filter(|_| holds[0]),
                    repeats[1].filter(|_| holds[1]),
                ],
            )
        });
        let mut items: Vec<_> = items.collect();
        if let Some(limit) = self.limit {
            for item in &mut items {
                let area = item.space.area.get_or_insert(Area {
                    low: [0.0; 2],
                    high: [f64::INFINITY; 2],
                });
                area.high[0] = area.high[0].min(limit);
            }
        }
        Problem::new(self.width, items, self.bare(cloth, from))
    }

    /// The main bars in this section.
    fn repeats(&self, cloth: &Cloth, from: f64) -> [Option<Repeat>; 2] {
        let along = cloth.repeats.along.map(|bars| Repeat {
            every: bars.every,
            // Folded crosswise, the fold is laid on a main bar.
            phase: if self.way == Way::Crosswise {
                0.0
            } else {
                (bars.from - from).rem_euclid(bars.every)
            },
        });
        let across = cloth.repeats.across.map(|bars| Repeat {
            every: bars.every,
            phase: (bars.from - self.edge).rem_euclid(bars.every),
        });
        [along, across]
    }

    /// Flaws of all layers, and what a left-over lacks of a rectangle.
    fn bare(&self, cloth: &Cloth, from: f64) -> Vec<Vec<Point>> {
        let mut bare = Vec::new();
        for flaw in &cloth.flaws {
            let mut layer = |sign: f64| {
                let put =
                    |corner: &Point| Point::new(corner.x - from, sign * (corner.y - self.edge));
                let ring: Vec<Point> = flaw.outline.iter().map(put).collect();
                let [low, high] = bounds(&ring);
                if high.x > 0.0 && high.y > 0.0 && low.y < self.width {
                    bare.push(ring);
                }
            };
            layer(1.0);
            if self.double > 0.0 {
                layer(-1.0);
            }
        }
        if let Some(outline) = &cloth.outline {
            let [low, high] = bounds(outline);
            let p = Point::new;
            let all = [low, p(high.x, low.y), high, p(low.x, high.y)];
            let rest = outward::rest_of(&all, outline);
            let put = |corner: Point| p(corner.x - from, corner.y - self.edge);
            bare.extend(
                rest.into_iter()
                    .map(|ring| ring.into_iter().map(put).collect::<Vec<Point>>()),
            );
        }
        bare
    }

    /// Where x = 0 lies on the cloth when the sections before take so much of it and this one is so long.
    pub(super) fn origin(&self, cloth: &Cloth, before: f64, length: f64) -> f64 {
        match (self.way, cloth.repeats.along, &cloth.outline) {
            (Way::Crosswise, Some(bars), _) => next_bar(bars, before + length),
            (Way::Crosswise, None, _) => before + length,
            (_, _, Some(outline)) => bounds(outline)[0].x,
            _ => before,
        }
    }
}
