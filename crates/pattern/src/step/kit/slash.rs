//! Slash and spread: a piece is cut along lines from edge to edge and its parts are moved apart, or a band is folded away.
//!
//! The part away from the centre line moves. Invariants: only the edges that the lines cross change, each by exactly what was
//! asked; folding away what was spread at the same place gives the piece back.

use document::{Finding, Place as Spot};
use geometry::curve::{closed_path, contains, turn_about};
use geometry::{Affine, Angle, Curve, Point, Tolerance, Vec2, math};

use super::dart_end;
use super::fill::{self, Joint};
use super::find::at_edge;
use super::gap::{self, Gap};
use super::inner::{self, Torn};
use super::part::{self, Part};
use super::place::SAME_POINT;
use crate::piece::{Dart, Piece};

/// A line along which a piece is slashed, and how far it opens at its two ends; negative where a band is folded away.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slash {
    /// Number of the edge and length as sewn along it where the line begins, mm.
    pub from: (usize, f64),
    /// The same where it ends.
    pub to: (usize, f64),
    /// How far it opens where it begins, mm.
    pub opens: f64,
    /// How far it opens where it ends, mm; nothing for a hinge.
    pub opens_at_end: f64,
}

/// What came of spreading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spread {
    /// Where edges are bridged or joined, to be trued.
    pub joints: Vec<Joint>,
    /// The lines along which it was slashed, before anything moved.
    pub lines: Vec<Curve>,
    /// Darts that a line went through: their mouth moved and their point did not.
    pub crossed: Vec<String>,
}

/// A line whose ends are open: gaps before and after a band that is folded away, the same gap twice where it spreads.
struct Opened {
    from: [usize; 2],
    to: [usize; 2],
    ends: [Point; 2],
}

/// Spreads a piece along lines that do not cross each other.
pub fn spread(piece: &mut Piece, slashes: &[Slash]) -> Result<Spread, Finding> {
    let mut work = piece.clone();
    let mut gaps = Vec::new();
    let mut opened = Vec::new();
    for slash in slashes {
        opened.push(open(&mut work, slash, &mut gaps)?);
    }
    let mut spread = Spread::default();
    for (slash, lines) in slashes.iter().zip(&opened) {
        spread.lines.push(Curve::line(lines.ends[0], lines.ends[1]));
        let crossed = move_apart(&mut work, slash, lines, &gaps);
        spread.crossed.extend(crossed);
    }
    spread.joints = fill_all(&mut work, &opened, &gaps)?;
    for dart in &spread.crossed {
        level_dart(&mut work, dart);
    }
    *piece = work;
    Ok(spread)
}

/// A dart that was crossed became longer; where that made its legs differ, it ends on the middle line of its mouth.
fn level_dart(piece: &mut Piece, dart: &str) {
    let end = dart_end::on_middle_line(piece, dart);
    let owner = piece.darts.iter_mut().find(|other| other.name == dart);
    if let (Some(owner), Some(end)) = (owner, end) {
        owner.point = end;
    }
}

/// Opens the outline at both ends of a line; gaps are held in one list and named by their place in it.
fn open(piece: &mut Piece, slash: &Slash, gaps: &mut Vec<Gap>) -> Result<Opened, Finding> {
    let place = |piece: &Piece, (edge, along): (usize, f64)| piece.edges[edge].place_at(along).0;
    let known = |(edge, _): (usize, f64)| edge < piece.edges.len();
    let mixed = slash.opens * slash.opens_at_end < 0.0;
    if mixed || !known(slash.from) || !known(slash.to) {
        return Err(too_short(piece));
    }
    let ends = [place(piece, slash.from), place(piece, slash.to)];
    if (ends[1] - ends[0]).hypot() < 1.0 {
        return Err(too_short(piece));
    }
    let parallel = (slash.opens - slash.opens_at_end).abs() < 1e-9;
    clear_of_darts(piece, &Curve::line(ends[0], ends[1]), parallel)?;
    let way = moving_way(piece, slash, ends);
    let from = open_end(piece, slash.from, slash.opens, way[0], gaps)?;
    let to = open_end(piece, slash.to, slash.opens_at_end, way[1], gaps)?;
    Ok(Opened { from, to, ends })
}

/// A line may cross a dart from side to side where both its legs grow alike, and no dart otherwise.
fn clear_of_darts(piece: &Piece, line: &Curve, parallel: bool) -> Result<(), Finding> {
    let crossed = piece.darts.iter().find(|dart| {
        let legs = crossed_legs(piece, dart, line);
        legs > 0 && !(parallel && legs == 2)
    });
    match crossed {
        None => Ok(()),
        Some(dart) => Err(Finding::error(
            "line-crosses-dart",
            format!(
                "the line would cut through the {} of the {}",
                dart.name,
                piece.title().to_lowercase()
            ),
        )
        .at(Spot::Piece(piece.name.clone()))
        .cure("let the line pass beside the dart, or transfer the dart first")),
    }
}

/// How many legs of a dart a line crosses away from their ends.
pub fn crossed_legs(piece: &Piece, dart: &Dart, line: &Curve) -> usize {
    let legs = piece.legs(dart);
    let crosses = |mouth: Point| {
        if (mouth - legs.point).hypot() < SAME_POINT {
            return false;
        }
        let leg = Curve::line(legs.point, mouth);
        let met = leg.crossings(line, Tolerance::PATTERN);
        met.iter()
            .any(|met| met.along > SAME_POINT && met.along < leg.length() - SAME_POINT)
    };
    [legs.before, legs.after]
        .into_iter()
        .filter(|mouth| crosses(*mouth))
        .count()
}

/// Whether the moving part lies onwards along the outline, clockwise, at either end of the line.
fn moving_way(piece: &Piece, slash: &Slash, ends: [Point; 2]) -> [bool; 2] {
    let mut trial = piece.clone();
    let mut held = Vec::new();
    let from = gap::open(&mut trial, slash.from.0, slash.from.1, &mut held);
    held.extend(from);
    let to = gap::open(&mut trial, slash.to.0, slash.to.1, &mut held);
    let (Some(from), Ok(to)) = (held.first().copied(), to) else {
        return [true, false];
    };
    let [first, second] = both(&trial, from, to, ends);
    let moves = Part::first_moves(&trial, &first, &second);
    [moves, !moves]
}

fn both(piece: &Piece, from: Gap, to: Gap, ends: [Point; 2]) -> [Part; 2] {
    [
        Part::between(piece, from, to, vec![Curve::line(ends[1], ends[0])]),
        Part::between(piece, to, from, vec![Curve::line(ends[0], ends[1])]),
    ]
}

fn open_end(
    piece: &mut Piece,
    (edge, along): (usize, f64),
    opens: f64,
    onwards: bool,
    gaps: &mut Vec<Gap>,
) -> Result<[usize; 2], Finding> {
    let near = gap::open(piece, edge, along, gaps)?;
    gaps.push(near);
    let index = gaps.len() - 1;
    if opens >= 0.0 {
        return Ok([index, index]);
    }
    let far = if onwards {
        along - opens
    } else {
        along + opens
    };
    if far < -SAME_POINT || far > piece.edges[edge].length() + SAME_POINT {
        return Err(band_beyond(piece, edge));
    }
    let beyond = gap::open(piece, edge, far, gaps)?;
    gaps.push(beyond);
    Ok([index, index + 1])
}

/// Moves the part beyond a line.
fn move_apart(piece: &mut Piece, slash: &Slash, line: &Opened, gaps: &[Gap]) -> Vec<String> {
    let at = |index: usize| gaps[index];
    let (from, to) = (line.from.map(at), line.to.map(at));
    let now = |gap: Gap, opens: bool| {
        if opens {
            gap.after(piece)
        } else {
            gap.before(piece)
        }
    };
    // The sides of the line that stay, as they lie now: earlier lines may have moved both.
    let whole = both(
        piece,
        from[0],
        to[0],
        [now(from[0], true), now(to[0], true)],
    );
    let first = Part::first_moves(piece, &whole[0], &whole[1]);
    let kept = [now(from[0], !first), now(to[0], first)];
    let beyond = [now(from[1], first), now(to[1], !first)];
    let part = if first {
        Part::between(
            piece,
            from[1],
            to[1],
            vec![Curve::line(beyond[1], beyond[0])],
        )
    } else {
        Part::between(
            piece,
            to[1],
            from[1],
            vec![Curve::line(beyond[0], beyond[1])],
        )
    };
    let by = if slash.opens < 0.0 || slash.opens_at_end < 0.0 {
        take_lines(piece, kept, beyond);
        folding(beyond, kept)
    } else {
        opening(slash, kept, first)
    };
    let crossed = part.carry(piece, by, Torn::Bridged);
    if slash.opens < 0.0 || slash.opens_at_end < 0.0 {
        piece.lines = piece.lines.iter().map(inner::rejoined).collect();
    }
    crossed
}

/// What lies in a band that is folded away is taken from the lines inside.
fn take_lines(piece: &mut Piece, kept: [Point; 2], beyond: [Point; 2]) {
    let corners = [kept[0], kept[1], beyond[1], beyond[0]];
    let sides: Vec<Curve> = (0..4)
        .filter(|&k| (corners[k] - corners[(k + 1) % 4]).hypot() > 1e-9)
        .map(|k| Curve::line(corners[k], corners[(k + 1) % 4]))
        .collect();
    let band = closed_path(&sides);
    let crosses = |run: &Curve| {
        let middle = |side: &Curve| !side.crossings(run, Tolerance::PATTERN).is_empty();
        sides.iter().any(middle) || contains(&band, run.point_at(run.length() / 2.0))
    };
    for line in &mut piece.lines {
        if line.runs.iter().any(crosses) {
            *line = inner::without(line, &band);
        }
    }
}

/// The move that lays one line on another of about the same length, their middles on each other.
fn folding(from: [Point; 2], onto: [Point; 2]) -> Affine {
    if (from[1] - onto[1]).hypot() < SAME_POINT {
        return part::turn(onto[1], from[0] - from[1], onto[0] - onto[1]);
    }
    if (from[0] - onto[0]).hypot() < SAME_POINT {
        return part::turn(onto[0], from[1] - from[0], onto[1] - onto[0]);
    }
    let middle = |ends: [Point; 2]| ends[0].midpoint(ends[1]);
    let shift = Affine::translate(middle(onto) - middle(from));
    let (ways, aim) = (from[1] - from[0], onto[1] - onto[0]);
    if ways.cross(aim).abs() < 1e-9 * ways.hypot() * aim.hypot() {
        return shift;
    }
    part::turn(middle(onto), ways, aim) * shift
}

/// The move that opens a line by so much at its two ends, square to it.
fn opening(slash: &Slash, [from, to]: [Point; 2], first: bool) -> Affine {
    let way = to - from;
    let length = way.hypot();
    // The first part, clockwise after the line's beginning, lies on the left of the way from begin to end.
    let side = if first { 1.0 } else { -1.0 };
    let out = Vec2::new(way.y, -way.x) / length * side;
    let (a, b) = (slash.opens, slash.opens_at_end);
    if (a - b).abs() < 1e-9 {
        return Affine::translate(out * a);
    }
    // Both ends move square to the line by chords of one turn about the point on it that stays.
    let hinge = from + way * (a / (a - b));
    let radius = length * (a / (a - b)).abs().max((b / (a - b)).abs());
    let half = (a.abs().max(b.abs()) / (2.0 * radius)).clamp(0.0, 1.0);
    let angle = 2.0 * math::asin(half) * side * (a - b).signum();
    turn_about(hinge, Angle::from_radians(angle))
}

/// Takes bands away and fills all gaps, from the last to the first.
fn fill_all(piece: &mut Piece, opened: &[Opened], gaps: &[Gap]) -> Result<Vec<Joint>, Finding> {
    let mut ends: Vec<[Gap; 2]> = opened
        .iter()
        .flat_map(|line| [line.from, line.to])
        .map(|pair| {
            let pair = pair.map(|index| gaps[index]);
            let clockwise = reaches(piece, pair[0], pair[1]);
            if clockwise { pair } else { [pair[1], pair[0]] }
        })
        .collect();
    ends.sort();
    ends.reverse();
    ends.dedup();
    apart(piece, &ends)?;
    let mut joints: Vec<Joint> = Vec::new();
    for [from, to] in ends {
        let changes = from.next(piece).edge;
        let edge = if from == to { from.edge } else { changes };
        let before = piece.edges[edge].length();
        if from != to {
            empty_band(piece, from, to)?;
            fill::take_out(piece, from, to);
        }
        let joint = if from == to {
            fill::bridge(piece, from)
        } else {
            fill::join(piece, from)
        };
        let more = piece.edges[edge].length() - before;
        for later in joints.iter_mut().filter(|later| later.edge == edge) {
            later.from += more;
            later.to += more;
        }
        joints.push(joint);
    }
    Ok(joints)
}

/// Bands and openings of different lines may not share a place: each is filled on its own.
fn apart(piece: &Piece, ends: &[[Gap; 2]]) -> Result<(), Finding> {
    let touches = |one: &[Gap; 2], other: &[Gap; 2]| {
        let runs = if one[0] == one[1] {
            Vec::new()
        } else {
            gap::runs_between(piece, one[0], one[1])
        };
        other
            .iter()
            .any(|gap| *gap == one[0] || *gap == one[1] || runs.contains(gap))
    };
    let clash = ends.iter().enumerate().find(|(index, one)| {
        ends[index + 1..]
            .iter()
            .any(|other| touches(one, other) || touches(other, one))
    });
    match clash {
        None => Ok(()),
        Some((_, [_, gap])) => Err(Finding::error(
            "lines-overlap",
            format!(
                "two lines open or fold at the same place of the {}",
                piece.edges[gap.edge].name
            ),
        )
        .at(at_edge(piece, gap.edge))
        .cure("give each line a place of its own")),
    }
}

/// Whether the second gap follows the first, clockwise, on the same edge or from the corner before it.
fn reaches(piece: &Piece, first: Gap, second: Gap) -> bool {
    let next = first.next(piece);
    first == second || next.edge == second.edge && next.run <= second.run
}

fn empty_band(piece: &Piece, from: Gap, to: Gap) -> Result<(), Finding> {
    let first = from.next(piece);
    let whole_edge =
        first.edge != to.edge || first.run > to.run || first.run == 0 && to.is_corner(piece);
    if whole_edge {
        return Err(band_beyond(piece, to.edge));
    }
    let name = &piece.edges[to.edge].name;
    let folded = piece
        .darts
        .iter()
        .find(|dart| dart.edge == *name && dart.gap >= first.run && dart.gap < to.run);
    match folded {
        None => Ok(()),
        Some(dart) => Err(Finding::error(
            "band-holds-dart",
            format!("the {} opens in what would be folded away", dart.name),
        )
        .at(at_edge(piece, to.edge))
        .cure("choose a place away from the dart")),
    }
}

/// The two places at which a straight line crosses the outline of a piece, in the order in which the outline meets them; a
/// finding where there are not exactly two.
pub fn across(piece: &Piece, through: Point, way: Vec2) -> Result<[(usize, f64); 2], Finding> {
    let mut places: Vec<(Point, (usize, f64))> = Vec::new();
    for (index, edge) in piece.edges.iter().enumerate() {
        let mut before = 0.0;
        for run in &edge.runs {
            for crossing in run.crossings_with_line(through, way, Tolerance::PATTERN) {
                let known =
                    |(point, _): &(Point, _)| (*point - crossing.point).hypot() < SAME_POINT;
                if !places.iter().any(known) {
                    places.push((crossing.point, (index, before + crossing.along)));
                }
            }
            before += run.length();
        }
    }
    match places[..] {
        [first, second] => Ok([first.1, second.1]),
        _ => Err(Finding::error(
            "line-does-not-cross",
            format!(
                "a line at this level meets the outline of the {} {} times",
                piece.title().to_lowercase(),
                places.len()
            ),
        )
        .at(Spot::Piece(piece.name.clone()))
        .allowed("a level that crosses the piece once, away from the mouths of darts")
        .cure("choose another level")),
    }
}

fn too_short(piece: &Piece) -> Finding {
    Finding::error(
        "slash-too-short",
        format!(
            "the line of the slash across the {} has no length, or opens at one end and closes at the other",
            piece.title().to_lowercase()
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("let it end at another edge, and open or close at both ends")
}

fn band_beyond(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "band-beyond-edge",
        format!("what would be folded away reaches beyond the {name}"),
    )
    .at(at_edge(piece, edge))
    .cure("fold less away, or choose a place farther from the corner")
}
