//! Flares a piece: its hem becomes wider by an amount or to a sweep, and the edge opposite stays.
//!
//! **What it does.** Slashes the piece along lines spaced evenly from the hem to the edge opposite and spreads them at the
//! hem, hinged there; or turns the fullness of darts into the hem, cutting up to their points and closing them.
//! **When it is used.** From a straight skirt to an A-line or swinging one; for a peplum or a bell sleeve.
//! **Example.** `flare hem="skirt-front.hem" from="skirt-front.waist" by="80 mm" lines=3`.
//! **What can go wrong.** The darts give less than was asked; the lines cross a dart.
//!
//! Invariants: the edge opposite keeps its length; the hem gets the length that was asked, trued.

use document::{Finding, Place as Spot, Quantity};
use geometry::{Curve, Point, curve::closed_path, solve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::fullness::ask_ease;
use super::kit::slash::{self, Slash, Spread};
use super::kit::true_up::{Keep, true_all};
use super::kit::{Along, Gap, Place, fill, inner, place};
use super::transfer::{Target, swing};
use crate::piece::Piece;
use crate::seam::Pattern;

/// A line keeps at least so far from the mouth of a dart, mm.
const CLEAR: f64 = 5.0;

pub(super) const STEP: StepKind = StepKind {
    name: "flare",
    group: Group::Size,
    summary: "widens a hem",
    manual: include_str!("flare.rs"),
    parameters: &[
        Parameter::needed("hem", Kind::Edge, "edge that becomes wider"),
        Parameter::needed(
            "from",
            Kind::Edge,
            "edge opposite, where the lines are hinged",
        ),
        Parameter::usually(
            "by",
            Kind::Length(0.0, 4000.0),
            Usual::Nothing,
            "how much wider",
        ),
        Parameter::usually(
            "sweep",
            Kind::Length(0.0, 8000.0),
            Usual::Nothing,
            "how long it becomes, as drawn",
        ),
        Parameter::usually(
            "lines",
            Kind::Count(1, 24),
            Usual::Count(4),
            "number of lines",
        ),
        Parameter::usually(
            "hinge",
            Kind::Choice(&["edge", "darts"]),
            Usual::Word("edge"),
            "whether it swings from the edge or from the points of the darts, which close",
        ),
    ],
    amount: Some("by"),
    apply: flare,
};

fn flare(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, hem) = arguments.edge(pattern, "hem")?;
    let (other, top) = arguments.edge(pattern, "from")?;
    let piece = &pattern.pieces[index];
    if other != index || hem == top {
        return Err(arguments.blame("from", apart(piece)));
    }
    let by = asked(arguments, piece, hem)?;
    let mut changed = piece.clone();
    let spread = if arguments.word("hinge")? == "darts" {
        from_darts(&mut changed, pattern, arguments, (hem, top), by)?
    } else {
        from_edge(&mut changed, (hem, top), by, arguments.count("lines")?)
            .map_err(|finding| arguments.blame("hem", finding))?
    };
    let names = [hem, top].map(|edge| piece.edges[edge].name.clone());
    let wanted = [piece.edges[hem].length() + by, piece.edges[top].length()];
    true_all(&mut changed, &spread.joints, |name, _| {
        Keep::Length(wanted[usize::from(name == names[1])])
    });
    let words = format!(
        "flared the {} of the {} by {by:.0} mm to {:.0} mm",
        names[0], piece.name, wanted[0]
    );
    let lines = spread.lines.into_iter();
    let lines = lines
        .map(|line| TraceLine::new(&piece.name, Trace::Slash, line))
        .collect();
    let mut flared = pattern.clone();
    flared.pieces[index] = changed;
    ask_ease(&mut flared, pattern);
    let pattern = flared;
    Ok(Done {
        pattern,
        lines,
        words,
    })
}

fn asked(arguments: &Arguments, piece: &Piece, hem: usize) -> Result<f64, Finding> {
    if !arguments.has("sweep") {
        return arguments.mm("by");
    }
    let (sweep, now) = (arguments.mm("sweep")?, piece.edges[hem].length());
    if sweep >= now {
        return Ok(sweep - now);
    }
    Err(arguments.blame(
        "sweep",
        Finding::error(
            "sweep-too-small",
            format!(
                "the {} of the {} is wider already",
                piece.edges[hem].name, piece.name
            ),
        )
        .at(Spot::Piece(piece.name.clone()))
        .measured(
            Quantity::mm(sweep),
            document::Allowed::AtLeast(Quantity::mm(now)),
        )
        .cure("ask for a wider hem"),
    ))
}

/// Lines from the hem to the edge opposite, at the same shares of both.
fn from_edge(
    piece: &mut Piece,
    (hem, top): (usize, usize),
    by: f64,
    lines: u32,
) -> Result<Spread, Finding> {
    let (low, high) = (piece.edges[hem].length(), piece.edges[top].length());
    let step = 1.0 / f64::from(lines);
    let slash = |share: f64| Slash {
        from: (hem, low * share),
        to: (top, high * (1.0 - share)),
        opens: by * step,
        opens_at_end: 0.0,
    };
    let middles = (0..lines).map(|line| (f64::from(line) + 0.5) * step);
    let slashes: Vec<Slash> = middles
        .map(|middle| slash(beside_darts(piece, (hem, top), middle, step)))
        .collect();
    slash::spread(piece, &slashes)
}

/// The share nearest to the wanted one, within its own strip, at which a line passes beside all darts.
fn beside_darts(piece: &Piece, (hem, top): (usize, usize), wanted: f64, step: f64) -> f64 {
    const TRIES: i32 = 8;
    let is_clear = |share: f64| {
        let (low, high) = (&piece.edges[hem], &piece.edges[top]);
        let along = high.length() * (1.0 - share);
        let line = Curve::line(low.place_at(low.length() * share).0, high.place_at(along).0);
        let at_mouth = piece.darts_on(&high.name).any(|dart| {
            let gap = Gap::of_dart(piece, &dart.name);
            gap.is_some_and(|gap| (gap.along(piece) - along).abs() < CLEAR)
        });
        let mut darts = piece.darts.iter();
        !at_mouth && darts.all(|dart| slash::crossed_legs(piece, dart, &line) == 0)
    };
    let tries = (0..=TRIES).flat_map(|k| [k, -k]);
    let mut shares = tries.map(|k| wanted + step * 0.49 * f64::from(k) / f64::from(TRIES));
    shares.find(|share| is_clear(*share)).unwrap_or(wanted)
}

/// The share of the darts' angles that opens the hem by so much, each cut straight down from its point.
fn from_darts(
    piece: &mut Piece,
    pattern: &Pattern,
    arguments: &Arguments,
    (hem, top): (usize, usize),
    by: f64,
) -> Result<Spread, Finding> {
    let start = piece.clone();
    let opened = |share: f64| turned(&start, pattern, (hem, top), share);
    let most = opened(1.0)
        .map_err(|finding| arguments.blame("from", finding))?
        .1;
    if most < by {
        return Err(arguments.blame("by", too_little(&start, by, most)));
    }
    let off = |share: f64| opened(share).map_or(f64::NAN, |(_, width, _)| width - by);
    let share = solve::bracketed(0.0, 1.0, 1e-10, off).unwrap_or(1.0);
    let (changed, _, spread) = opened(share).map_err(|finding| arguments.blame("from", finding))?;
    *piece = changed;
    Ok(spread)
}

/// The piece with a share of its darts turned into its hem, how much wider that is, and what is to be trued.
fn turned(
    piece: &Piece,
    pattern: &Pattern,
    (hem, top): (usize, usize),
    share: f64,
) -> Result<(Piece, f64, Spread), Finding> {
    let names = [hem, top].map(|edge| piece.edges[edge].name.clone());
    let darts: Vec<String> = piece
        .darts_on(&names[1])
        .map(|dart| dart.name.clone())
        .collect();
    let mut work = pattern.clone();
    let at = pattern
        .pieces
        .iter()
        .position(|other| other.name == piece.name)
        .unwrap_or(0);
    work.pieces[at] = piece.clone();
    let mut spread = Spread::default();
    let mut opened = Vec::new();
    let mut changed = piece.clone();
    for (number, dart) in darts.iter().enumerate() {
        // Lengths as sewn along the hem stay while darts swing: all places are found before.
        let down = Place::on_edge(&piece.name, &names[0], Along::AlongGrain(dart.clone()));
        let seat = place::seat(&work, &down)?;
        let target = Target::Edge {
            edge: names[0].clone(),
            along: seat.along,
        };
        let point = piece.dart(dart).map_or(Point::ORIGIN, |dart| dart.point);
        let name = format!("flare-{number}");
        spread
            .lines
            .push(Curve::line(point, place::find(&work, &down)?.at));
        changed = swing(&changed, dart, &target, share, Some(&name))?;
        opened.push(name);
    }
    let before = changed.edges[hem].length();
    let mut gaps: Vec<Gap> = opened
        .iter()
        .filter_map(|name| Gap::of_dart(&changed, name))
        .collect();
    for name in &opened {
        bridge_lines(&mut changed, name);
    }
    changed.darts.retain(|dart| !opened.contains(&dart.name));
    gaps.sort_unstable();
    for gap in gaps.into_iter().rev() {
        let joint = fill::bridge(&mut changed, gap);
        for later in &mut spread.joints {
            later.from += joint.to - joint.from;
            later.to += joint.to - joint.from;
        }
        spread.joints.push(joint);
    }
    changed.lines = changed.lines.iter().map(inner::rejoined).collect();
    let width = changed.edges[hem].length() - before;
    Ok((changed, width, spread))
}

/// Lines inside go on over a slash that is filled.
fn bridge_lines(piece: &mut Piece, dart: &str) {
    let Some(legs) = piece.dart(dart).map(|dart| piece.legs(dart)) else {
        return;
    };
    let corners = [legs.point, legs.before, legs.after, legs.point];
    let Some(sides) = Curve::polyline(&corners) else {
        return;
    };
    let wedge = closed_path([&sides]);
    piece.lines = piece
        .lines
        .iter()
        .map(|line| inner::bridged_over(line, &wedge))
        .collect();
}

fn apart(piece: &Piece) -> Finding {
    Finding::error(
        "edges-not-opposite",
        "hem and edge opposite are two edges of one piece",
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("name two edges of the same piece")
}

fn too_little(piece: &Piece, by: f64, most: f64) -> Finding {
    Finding::error(
        "darts-too-small",
        format!(
            "the darts of the {} open its hem by {most:.0} mm",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .measured(
        Quantity::mm(by),
        document::Allowed::AtMost(Quantity::mm(most)),
    )
    .cure("ask for less, or let it swing from the edge")
}
