//! The outline of a facing: a band along a line, as wide as asked everywhere, drawn in at the faced edges.
//!
//! Invariants: every place of the outer edge lies at the width from the line (farther only where a hollow is rounded); the
//! outline runs clockwise and is simple, or there is none.

use geometry::curve::{angle_between, enclosed_area};
use geometry::simple::is_simple;
use geometry::{Curve, Point, Tolerance};
use pattern::Pattern;

use super::sewn::{Border, Depth, Section, Sewn, beside};
use crate::part::figures;
use crate::recipe::parts::FacingAt;

/// How far a band goes on beyond its ends while it is drawn, in widths.
const PROLONGED: f64 = 2.0;
/// How far the drawn-in edge goes on beyond its ends while it is drawn, mm: more than any turn of cloth.
const BESIDE: f64 = 40.0;
/// A kink of the outer edge that is left as it is, degrees: what a seam may show.
const SMOOTH: f64 = 1.0;

/// What is asked of a band.
pub(super) struct Ask {
    /// Width, mm.
    pub(super) width: f64,
    /// By how much it is drawn in at the faced edges, mm.
    pub(super) under_cut: f64,
    /// Behind which edges it lies; what is between them is sewn as it is.
    pub(super) at: FacingAt,
}

/// A band in the coordinates of its line.
pub(super) struct Band {
    /// The line's sections, those that are faced drawn in.
    pub(super) inner: Vec<(Section, Curve)>,
    /// Beside its first and its last point, from the line inwards.
    pub(super) ends: [Curve; 2],
    /// The outer edge along the line, one curve a side of the garment.
    pub(super) outer: Vec<(String, Curve)>,
}

impl Band {
    /// Draws a band; none where it has no room.
    pub(super) fn of(sewn: &Sewn, pattern: &Pattern, ask: &Ask) -> Option<Self> {
        let sections = sewn.sections(pattern);
        let outer = outer(sewn, ask.width)?;
        let first = meeting(&outer, &sewn.borders[0])?;
        let last = meeting(&outer, &sewn.borders[1])?;
        let roomy = |far: f64, border: &Border| far + figures::FACING_ROOM <= border.curve.length();
        let is_roomy = roomy(first.1, &sewn.borders[0]) && roomy(last.1, &sewn.borders[1]);
        let outer = (is_roomy && first.0 < last.0).then(|| outer.stretch(first.0, last.0))?;
        if sewn.borders.iter().any(|border| runs_into(&outer, border)) {
            return None;
        }
        let Inner {
            sections: mut inner,
            from,
        } = inner(sewn, &sections, ask)?;
        let ends = [
            (from[0], first.1, &sewn.borders[0]),
            (from[1], last.1, &sewn.borders[1]),
        ];
        if ends.iter().any(|(from, to, _)| to - from < 1.0) {
            return None;
        }
        let ends = ends.map(|(from, to, border)| border.curve.stretch(from, to));
        let outer = outer.with_ends(ends[0].end(), ends[1].end());
        meet(&mut inner, &ends);
        let outer = by_side(sewn, &sections, outer)?;
        let band = Self { inner, ends, outer };
        band.is_sound().then_some(band)
    }

    fn is_sound(&self) -> bool {
        let outline = self.outline();
        enclosed_area(&outline) > 0.0 && is_simple(&outline)
    }

    /// The outline, clockwise.
    fn outline(&self) -> Vec<Curve> {
        let inner = self.inner.iter().map(|(_, curve)| curve.clone());
        let outer = self.outer.iter().rev().map(|(_, curve)| curve.reversed());
        inner
            .chain([self.ends[1].clone()])
            .chain(outer)
            .chain([self.ends[0].reversed()])
            .collect()
    }
}

/// The line at the width, its hollows rounded.
fn outer(sewn: &Sewn, width: f64) -> Option<Curve> {
    let whole = [0, sewn.chunks.len()];
    let hollow = figures::FACING_HOLLOW;
    let line = sewn.prolonged(whole, PROLONGED * width + hollow, Depth::Width);
    let plain = beside(&line, width)?;
    if is_smooth(&plain) {
        return Some(plain);
    }
    let wide = beside(&line, width + hollow)?;
    beside(&wide, -hollow)
}

fn is_smooth(curve: &Curve) -> bool {
    let ends = curve.segments().windows(2).map(|pair| {
        let curves = [pair[0], pair[1]].map(|segment| Curve::from_segments(vec![segment]));
        let [Some(before), Some(after)] = curves else {
            return 0.0;
        };
        angle_between(before.end_direction(), after.start_direction())
            .degrees()
            .abs()
    });
    ends.fold(0.0, f64::max) < SMOOTH
}

/// Where a line beside the shell's edge meets a border first: lengths along the line and along the border.
fn meeting(line: &Curve, border: &Border) -> Option<(f64, f64)> {
    let crossings = line.crossings(&border.curve, Tolerance::PATTERN);
    crossings
        .into_iter()
        .map(|crossing| (crossing.along, crossing.other_along))
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Whether the outer edge crosses what follows a border.
fn runs_into(outer: &Curve, border: &Border) -> bool {
    border.beyond.as_ref().is_some_and(|beyond| {
        !border.is_centre && !outer.crossings(beyond, Tolerance::PATTERN).is_empty()
    })
}

/// Sections that are drawn as one line, and where that begins and ends.
struct Group {
    sections: Vec<Section>,
    faced: bool,
    line: Curve,
    bounds: [f64; 2],
}

/// The sections drawn in where they are faced.
struct Inner {
    sections: Vec<(Section, Curve)>,
    /// How far along each border they begin and end.
    from: [f64; 2],
}

fn inner(sewn: &Sewn, sections: &[Section], ask: &Ask) -> Option<Inner> {
    let mut groups = groups(sewn, sections, ask)?;
    let last = groups.len() - 1;
    let mut from = [0.0; 2];
    for (at, index) in [(0, 0), (1, last)] {
        let (group, border) = (&mut groups[index], &sewn.borders[at]);
        if group.faced && ask.under_cut > 0.0 {
            (group.bounds[at], from[at]) = meeting(&group.line, border)?;
        } else if group.faced {
            group.bounds[at] = group.line.nearest(border.curve.start()).along;
        }
    }
    for index in 1..groups.len() {
        let corner = sewn.chunks[groups[index].sections[0].chunks[0]]
            .curve
            .start();
        let met = nearest_meeting(&groups[index - 1].line, &groups[index].line, corner)?;
        (groups[index - 1].bounds[1], groups[index].bounds[0]) = met;
    }
    let mut drawn = Vec::new();
    for group in &groups {
        let [start, end] = group.bounds;
        let line = (start < end).then(|| group.line.stretch(start, end))?;
        drawn.extend(split(sewn, &group.sections, &line)?);
    }
    Some(Inner {
        sections: drawn,
        from,
    })
}

/// Faced sections that follow each other are drawn in as one line, others stay as they are.
fn groups(sewn: &Sewn, sections: &[Section], ask: &Ask) -> Option<Vec<Group>> {
    let mut parts: Vec<(bool, Vec<Section>)> = Vec::new();
    for section in sections {
        let faced = ask.at.faces(&section.edge);
        match parts.last_mut() {
            Some((true, group)) if faced => group.push(section.clone()),
            _ => parts.push((faced, vec![section.clone()])),
        }
    }
    let each = parts.into_iter().map(|(faced, sections)| {
        let chunks = [
            sections[0].chunks[0],
            sections[sections.len() - 1].chunks[1],
        ];
        let line = if faced {
            beside(&sewn.prolonged(chunks, BESIDE, Depth::Edge), ask.under_cut)?
        } else {
            sewn.line(chunks)
        };
        let bounds = [0.0, line.length()];
        Some(Group {
            sections,
            faced,
            line,
            bounds,
        })
    });
    each.collect()
}

/// Where two lines meet nearest to a corner: lengths along both.
fn nearest_meeting(before: &Curve, after: &Curve, corner: Point) -> Option<(f64, f64)> {
    let crossings = before.crossings(after, Tolerance::PATTERN);
    let met = crossings.iter().min_by(|a, b| {
        let [a, b] = [a, b].map(|one| (one.point - corner).hypot());
        a.total_cmp(&b)
    })?;
    Some((met.along, met.other_along))
}

/// A line over several sections, divided beside the corners between them.
fn split(sewn: &Sewn, group: &[Section], line: &Curve) -> Option<Vec<(Section, Curve)>> {
    let mut rest = line.clone();
    let mut parts = Vec::new();
    for pair in group.windows(2) {
        let corner = sewn.chunks[pair[1].chunks[0]].curve.start();
        let (own, after) = rest.split_at(rest.nearest(corner).along)?;
        parts.push((pair[0].clone(), own));
        rest = after;
    }
    parts.push((group[group.len() - 1].clone(), rest));
    Some(parts)
}

/// The outer edge divided where the line passes from one side of the garment to the other.
fn by_side(sewn: &Sewn, sections: &[Section], outer: Curve) -> Option<Vec<(String, Curve)>> {
    let mut rest = outer;
    let mut parts = Vec::new();
    for pair in sections.windows(2) {
        if pair[0].side == pair[1].side {
            continue;
        }
        let corner = sewn.chunks[pair[1].chunks[0]].curve.start();
        let (own, after) = rest.split_at(rest.nearest(corner).along)?;
        parts.push((pair[0].side.clone(), own));
        rest = after;
    }
    let last = sections.last()?;
    parts.push((last.side.clone(), rest));
    Some(parts)
}

/// Corners are put exactly on each other.
fn meet(inner: &mut [(Section, Curve)], ends: &[Curve; 2]) {
    let last = inner.len() - 1;
    for index in 0..=last {
        let start = if index == 0 {
            ends[0].start()
        } else {
            inner[index - 1].1.end()
        };
        let end = if index == last {
            ends[1].start()
        } else {
            inner[index].1.end()
        };
        inner[index].1 = inner[index].1.with_ends(start, end);
    }
}
