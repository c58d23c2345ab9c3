//! The search for lays: every way that is asked for a little, then the best two for the rest.
//!
//! Invariant: what is returned or told was proven; the same seed and number of evaluations give the same lays.

use std::time::{Duration, Instant};

use document::{Finding, Place};
use geometry::Vec2;
use pattern::{Layer, Pattern};

use super::kind::{self, Kind};
use super::matching::{self, Meeting, meetings};
use super::plan::{Plan, Stage, plan};
use super::slot::placing;
use super::{Lay, Placed, Section, Way, Wishes};
use crate::goods::Cloth;
use crate::nest::{self, Budget, Continue, Fault, Layout, Problem, solve};
use crate::verify;
use crate::verify::garment::Subject;

/// The share of the effort that all ways together get before the best are gone on with.
const FIRST: f64 = 0.3;
/// So many evaluations in all are a small search.
const SMALL: u64 = 100_000;
/// How many ways are gone on with.
const GONE_ON_WITH: usize = 2;

/// How long to search. Without either limit, until told to stop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Effort {
    /// How many places are tried in all.
    pub evaluations: Option<u64>,
    /// How long the search may take; what is found then depends on the machine.
    pub time: Option<Duration>,
    /// Where chance begins.
    pub seed: u64,
}

/// What is told while the search goes on.
#[derive(Clone, Copy, Debug)]
pub struct Told<'a> {
    /// The way that is being searched.
    pub way: Way,
    /// How many places were tried so far, in all.
    pub evaluations: u64,
    /// A proven lay, where a shorter one of this way was found since the last word.
    pub found: Option<&'a Lay>,
}

/// What was found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Proven lays, the shortest first, one for each way.
    pub lays: Vec<Lay>,
    /// Why a way is not among them, and what could not be matched.
    pub findings: Vec<Finding>,
    /// How many places were tried.
    pub evaluations: u64,
}

/// Searches for lays of the pieces that are cut from a cloth.
///
/// `start` are lays from before an edit; where they still fit, the search goes on from them. `progress` is told of every lay
/// that is shorter, and may stop the search; then the best so far are returned. An error says why there is nothing to lay.
pub fn lays(
    pattern: &Pattern,
    layers: &[Layer],
    cloth: &Cloth,
    wishes: &Wishes,
    effort: &Effort,
    start: &[Lay],
    progress: &mut dyn FnMut(Told<'_>) -> Continue,
) -> Result<Found, Vec<Finding>> {
    let cloth = cloth.as_laid();
    let mut kinds = kind::kinds(pattern, layers)?;
    kind::keep_off(&mut kinds, &wishes.whole);
    if kinds.is_empty() {
        return Err(vec![nothing(&cloth)]);
    }
    let names: Vec<&str> = kinds.iter().map(|kind| kind.name.as_str()).collect();
    let met = if cloth.repeats.any() {
        meetings(pattern, &names, &wishes.matching)
    } else {
        Vec::new()
    };
    let held = matching::held(pattern, &kinds, &met);
    let every = [cloth.repeats.along, cloth.repeats.across].map(|bars| bars.map(|one| one.every));
    let (met, lost) = matching::sorted(&kinds, &held, met, every);
    let holds = moved_to_bars(&mut kinds, &held);
    let mut search = Search {
        kinds: &kinds,
        holds: &holds,
        cloth: &cloth,
        subject: Subject {
            pattern,
            layers,
            cloth: &cloth,
            meetings: &met,
            grain_tolerance: wishes.grain_tolerance,
        },
        effort,
        began: Instant::now(),
        evaluations: 0,
        stopped: false,
        progress,
    };
    let mut found = Found {
        findings: lost.iter().map(|(one, by)| unmatched(one, *by)).collect(),
        ..Found::default()
    };
    let plans = search.plans(wishes, &mut found.findings);
    let solved = search.all(&plans, start, &mut found.findings);
    found.evaluations = search.evaluations;
    found.lays = solved.into_iter().map(|one| one.lay).collect();
    Ok(found)
}

/// Puts the origin of every kind on what lies on a main bar; says which of its axes hold one.
fn moved_to_bars(kinds: &mut [Kind], held: &matching::Held) -> Vec<[bool; 2]> {
    let mut holds = Vec::with_capacity(kinds.len());
    for (kind, origin) in kinds.iter_mut().zip(&held.origins) {
        // A piece on the fold keeps its fold at y = 0, which is its centre line.
        let across = match kind.cut {
            kind::Cut::OnFold => 0.0,
            _ => origin[1].unwrap_or(0.0),
        };
        kind.shift(Vec2::new(-origin[0].unwrap_or(0.0), -across));
        holds.push([origin[0].is_some(), origin[1].is_some()]);
    }
    holds
}

fn unmatched(meeting: &Meeting, by: f64) -> Finding {
    Finding::note(
        "repeat-not-matched",
        format!(
            "at the {} the repeat is {by:.0} mm off, since its sides are matched by other seams",
            meeting.name
        ),
    )
    .at(Place::Seam(meeting.name.clone()))
    .because("a seam that closes a round of seams can be matched only where the pieces are as wide as whole repeats")
    .cure("match at another notch, or let it be off where it is seen least")
}

fn nothing(cloth: &Cloth) -> Finding {
    Finding::error(
        "nothing-to-lay",
        format!("no piece is cut from the {}", cloth.name),
    )
    .allowed("a layer of the garment that has pieces")
    .cure("name another layer")
}

/// A plan with the best that was found for it.
struct Solved<'p> {
    plan: &'p Plan,
    layouts: Vec<Layout>,
    lay: Lay,
}

struct Search<'a, 'b> {
    kinds: &'a [Kind],
    holds: &'a [[bool; 2]],
    cloth: &'a Cloth,
    subject: Subject<'a>,
    effort: &'a Effort,
    began: Instant,
    evaluations: u64,
    stopped: bool,
    progress: &'b mut dyn FnMut(Told<'_>) -> Continue,
}

impl Search<'_, '_> {
    fn plans(&self, wishes: &Wishes, findings: &mut Vec<Finding>) -> Vec<Plan> {
        let ways: &[Way] = if wishes.ways.is_empty() {
            &Way::ALL
        } else {
            &wishes.ways
        };
        let mut plans = Vec::new();
        for &way in ways {
            match plan(self.kinds, self.cloth, way, wishes) {
                Ok(Some(plan)) => plans.push(plan),
                Ok(None) if !wishes.ways.is_empty() => findings.push(no_difference(way)),
                Ok(None) => {}
                Err(finding) => findings.push(finding),
            }
        }
        plans
    }

    fn all<'p>(
        &mut self,
        plans: &'p [Plan],
        start: &[Lay],
        findings: &mut Vec<Finding>,
    ) -> Vec<Solved<'p>> {
        let mut solved: Vec<Solved<'p>> = Vec::new();
        // Going on makes the fields of all pairs anew, which costs more than a small search is worth.
        let is_small = self.effort.evaluations.is_some_and(|all| all <= SMALL);
        let goes_on = plans.len() > 1 && !is_small;
        let first = if goes_on { FIRST } else { 1.0 };
        for (number, plan) in plans.iter().enumerate() {
            if self.stopped && !solved.is_empty() {
                break;
            }
            let begin = start.iter().find(|lay| lay.way == plan.way);
            let layouts = begin.map_or_else(Vec::new, |lay| layouts(self.kinds, plan, lay));
            let until = first * (number + 1) as f64 / plans.len() as f64;
            match self.one(plan, &layouts, until) {
                Ok(one) => solved.push(one),
                Err(finding) => findings.push(finding),
            }
        }
        solved.sort_by(|a, b| a.lay.length.total_cmp(&b.lay.length));
        if goes_on {
            self.go_on(&mut solved);
        }
        solved
    }

    fn go_on(&mut self, solved: &mut [Solved<'_>]) {
        let count = solved.len().min(GONE_ON_WITH);
        for (number, one) in solved.iter_mut().take(count).enumerate() {
            if self.stopped {
                break;
            }
            let until = FIRST + (1.0 - FIRST) * (number + 1) as f64 / count as f64;
            let again = self.one(one.plan, &one.layouts, until);
            if let Ok(again) = again
                && again.lay.length < one.lay.length
            {
                *one = again;
            }
        }
        solved.sort_by(|a, b| a.lay.length.total_cmp(&b.lay.length));
    }

    /// Lays all sections of a plan with the effort up to a share of the whole.
    fn one<'p>(
        &mut self,
        plan: &'p Plan,
        start: &[Layout],
        until: f64,
    ) -> Result<Solved<'p>, Finding> {
        let begun = self.spent();
        let all: usize = plan.stages.iter().map(Stage::copies).sum();
        let (mut layouts, mut before, mut copies) = (Vec::new(), 0.0, 0);
        let mut froms = Vec::new();
        for (number, stage) in plan.stages.iter().enumerate() {
            copies += stage.copies();
            let share = begun + (until - begun).max(0.0) * copies as f64 / all as f64;
            let problem = stage
                .problem(self.kinds, self.holds, self.cloth, before)
                .map_err(|fault| unlaid(plan.way, self.cloth, stage, &fault))?;
            let is_last = number + 1 == plan.stages.len();
            let partial = (plan, layouts.as_slice(), froms.as_slice(), before);
            let layout = self.stage(&problem, partial, start.get(number), share, is_last)?;
            let from = stage.origin(self.cloth, before, layout.length);
            froms.push(from);
            before = match stage.way {
                Way::Crosswise => 2.0 * from - before,
                _ => before + layout.length,
            };
            layouts.push(layout);
        }
        let lay = self.lay(plan, &layouts, &froms, before);
        verify::garment::verify(&self.subject, &lay)
            .map_err(|wrong| unproven(plan.way, self.cloth, &wrong))?;
        Ok(Solved { plan, layouts, lay })
    }

    /// Searches one section; what is found of the last one is told as a whole lay.
    fn stage(
        &mut self,
        problem: &Problem,
        (plan, layouts, froms, before): (&Plan, &[Layout], &[f64], f64),
        start: Option<&Layout>,
        until: f64,
        is_last: bool,
    ) -> Result<Layout, Finding> {
        let budget = self.budget(until);
        let stage = &plan.stages[layouts.len()];
        let (mut here, mut told) = (0, f64::INFINITY);
        let already = self.evaluations;
        let mut stopped = self.stopped;
        let layout = {
            let (kinds, cloth, subject) = (self.kinds, self.cloth, &self.subject);
            let progress = &mut *self.progress;
            let mut hear = |now: nest::Progress<'_>| {
                here = now.evaluations;
                if stopped {
                    return Continue::No;
                }
                let mut found = None;
                if is_last && now.layout.length < told {
                    told = now.layout.length;
                    let from = stage.origin(cloth, before, told);
                    let all: Vec<Layout> = layouts.iter().chain([now.layout]).cloned().collect();
                    let froms: Vec<f64> = froms.iter().copied().chain([from]).collect();
                    let taken = match stage.way {
                        Way::Crosswise => 2.0 * from - before,
                        _ => before + told,
                    };
                    let lay = assemble(kinds, plan, &all, &froms, taken);
                    found = verify::garment::verify(subject, &lay)
                        .is_ok()
                        .then_some(lay);
                }
                let answer = progress(Told {
                    way: plan.way,
                    evaluations: already + now.evaluations,
                    found: found.as_ref(),
                });
                stopped = answer == Continue::No;
                answer
            };
            solve(problem, &budget, self.effort.seed, &mut hear, start)
        };
        self.evaluations += here;
        self.stopped = stopped;
        match verify::verify(problem, &layout, verify::tolerance(problem)) {
            Ok(()) => Ok(layout),
            Err(_) => Err(no_room(plan.way, self.cloth)),
        }
    }

    /// The share of the effort that is spent.
    fn spent(&self) -> f64 {
        if let Some(all) = self.effort.evaluations {
            self.evaluations as f64 / all.max(1) as f64
        } else if let Some(time) = self.effort.time {
            self.began.elapsed().as_secs_f64() / time.as_secs_f64().max(1e-9)
        } else {
            0.0
        }
    }

    fn budget(&self, until: f64) -> Budget {
        let evaluations = self
            .effort
            .evaluations
            .map(|all| ((all as f64 * until) as u64).saturating_sub(self.evaluations));
        let deadline = self.effort.time.map(|time| {
            let share = if evaluations.is_some() { 1.0 } else { until };
            self.began + time.mul_f64(share.clamp(0.0, 1.0))
        });
        Budget {
            evaluations,
            deadline,
        }
    }

    fn lay(&self, plan: &Plan, layouts: &[Layout], froms: &[f64], length: f64) -> Lay {
        assemble(self.kinds, plan, layouts, froms, length)
    }
}

/// The lay of a plan whose sections are laid.
fn assemble(kinds: &[Kind], plan: &Plan, layouts: &[Layout], froms: &[f64], length: f64) -> Lay {
    let sections = plan.stages.iter().zip(layouts).zip(froms);
    let sections = sections.map(|((stage, layout), from)| Section {
        way: stage.way,
        from: *from,
        edge: stage.edge,
        length: layout.length,
        width: stage.width,
        double: stage.double,
    });
    let mut copies = Vec::new();
    for (section, (stage, layout)) in plan.stages.iter().zip(layouts).enumerate() {
        for (item, slot) in stage.slots.iter().enumerate() {
            let here = layout.placements.iter().filter(|one| one.item == item);
            for (placement, copy) in here.zip(&slot.copies) {
                let kind = &kinds[slot.kind];
                let turn = slot.turns[placement.turn];
                let put = placing(turn, placement.place);
                copies.push(Placed {
                    piece: kind.name.clone(),
                    title: kind.title.clone(),
                    copy: *copy,
                    part: slot.part,
                    section,
                    degrees: turn.degrees.rem_euclid(360.0),
                    face_down: turn.mirrored,
                    place: placement.place,
                    into: put * kind.frame,
                    ring: slot.ring(kinds).iter().map(|point| put * *point).collect(),
                });
            }
        }
    }
    Lay {
        way: plan.way,
        sections: sections.collect(),
        copies,
        length,
    }
}

/// The sections of a lay as layouts to begin with; none where a copy of the plan is not in it.
fn layouts(kinds: &[Kind], plan: &Plan, lay: &Lay) -> Vec<Layout> {
    let mut layouts = Vec::new();
    for (section, stage) in plan.stages.iter().enumerate() {
        let mut placements = Vec::new();
        for (item, slot) in stage.slots.iter().enumerate() {
            for copy in &slot.copies {
                let known = lay.copies.iter().find(|one| {
                    one.piece == kinds[slot.kind].name
                        && one.copy == *copy
                        && one.section == section
                        && one.part == slot.part
                });
                let Some(known) = known else {
                    return Vec::new();
                };
                let turn = slot.turns.iter().position(|turn| {
                    turn.mirrored == known.face_down
                        && (turn.degrees - known.degrees).rem_euclid(360.0) < 1e-9
                });
                placements.push(nest::Placement {
                    item,
                    turn: turn.unwrap_or(0),
                    place: known.place,
                });
            }
        }
        layouts.push(Layout {
            length: lay.sections.get(section).map_or(0.0, |one| one.length),
            placements,
        });
    }
    layouts
}

fn no_difference(way: Way) -> Finding {
    Finding::note(
        "way-without-sense",
        format!("{} there is nothing to lay", way.title()),
    )
    .because("no piece is cut twice or on the fold, or all of the cloth would lie double")
    .cure("lay it open")
}

fn unlaid(way: Way, cloth: &Cloth, stage: &Stage, fault: &Fault) -> Finding {
    let message = match fault {
        Fault::TooLarge { item, room, least } => format!(
            "the {} takes {least:.0} mm across the grain and has {room:.0} mm on the {} {}",
            item.to_lowercase(),
            cloth.name,
            way.title()
        ),
        other => format!("the {} cannot be laid: {other}", cloth.name),
    };
    let finding = Finding::note("piece-finds-no-place", message)
        .because("a piece lies along its grain, inside the selvedges")
        .cure("lay the cloth another way, take a wider one, or cut the piece in two");
    match fault {
        Fault::TooLarge { item, .. } if stage.slots.len() == 1 => {
            finding.at(Place::Piece(item.to_lowercase().replace(' ', "-")))
        }
        _ => finding,
    }
}

fn no_room(way: Way, cloth: &Cloth) -> Finding {
    Finding::warning(
        "lay-not-found",
        format!(
            "no lay was found that fits the {} {}",
            cloth.name,
            way.title()
        ),
    )
    .because("pieces overlap wherever they were put; a longer search may still find one")
    .cure("search longer, take a larger cloth, or let go of pieces that are held")
}

fn unproven(way: Way, cloth: &Cloth, wrong: &[verify::garment::Wrong]) -> Finding {
    let first = wrong.first().map_or_else(String::new, ToString::to_string);
    Finding::warning(
        "lay-not-proven",
        format!(
            "the lay of the {} {} was not proven: {first}",
            cloth.name,
            way.title()
        ),
    )
    .because("a lay is shown only where an independent check finds nothing wrong with it")
    .cure("let go of pieces that are held, or lay the cloth another way")
}
