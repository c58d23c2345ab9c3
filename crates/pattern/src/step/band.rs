//! Makes a band or a cuff for edges, and the seam that joins it.
//!
//! **What it does.** Adds a straight piece as long as the edges as sewn, or shorter, so that they are gathered, pleated or eased
//! onto it; folded along its upper edge or single, with a length that lies over where it closes. A band goes round both halves;
//! a cuff is made for each sleeve. The edges become seams.
//! **When it is used.** Waistbands, hem bands, neck bands, cuffs. Name the edges of a band in the order in which it meets them,
//! beginning where it opens.
//! **Example.** `band edge="back.neckline, front.neckline" height="30 mm" name="neckband"`;
//! `cuff edge="sleeve.hem" height="50 mm" length="220 mm" overlap="20 mm"`.
//! **What can go wrong.** The edges are sewn to something already; the band is longer than they are.
//!
//! Invariants: the new seam walks with the fullness that it asks for; nothing that was drawn moves.

use document::{Allowed, Finding, Place as Spot, Quantity};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::new_piece::{self, Band, is_half, piece_name, seam_allowance, seam_name};
use super::kit::{find, notches, walk};
use crate::name::root;
use crate::piece::{Cut, Laid, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

const HEIGHT: Parameter = Parameter::needed(
    "height",
    Kind::Length(5.0, 600.0),
    "how high it is when it is worn",
);
const LENGTH: Parameter = Parameter::usually(
    "length",
    Kind::Length(30.0, 5000.0),
    Usual::Nothing,
    "how long it is without what lies over; as long as the edges where it is not given",
);
const FOLDED: Parameter = Parameter::usually(
    "folded",
    Kind::Flag,
    Usual::Flag(true),
    "whether it is cut twice as high and folded",
);
const AS: Parameter = Parameter::usually(
    "as",
    Kind::Choice(&["gathers", "pleats", "ease"]),
    Usual::Word("gathers"),
    "how edges longer than it are taken in",
);

pub(super) const BAND: StepKind = StepKind {
    name: "band",
    group: Group::Build,
    summary: "makes a band for edges",
    manual: include_str!("band.rs"),
    parameters: &[
        Parameter::needed("edge", Kind::Edge, "edges that it meets, in order").many(),
        HEIGHT,
        LENGTH,
        Parameter::usually(
            "overlap",
            Kind::Length(0.0, 300.0),
            Usual::Length(0.0),
            "what lies over where it closes",
        ),
        FOLDED,
        AS,
        Parameter::usually("name", Kind::Text, Usual::Word("band"), "name of the piece"),
    ],
    amount: None,
    apply: |pattern, arguments| apply(pattern, arguments, false),
};

pub(super) const CUFF: StepKind = StepKind {
    name: "cuff",
    group: Group::Build,
    summary: "makes a cuff for the hem of a sleeve",
    manual: include_str!("band.rs"),
    parameters: &[
        Parameter::needed("edge", Kind::Edge, "edge that it meets"),
        HEIGHT,
        LENGTH,
        Parameter::usually(
            "overlap",
            Kind::Length(0.0, 300.0),
            Usual::Length(20.0),
            "what lies over where it closes",
        ),
        FOLDED,
        AS,
        Parameter::usually("name", Kind::Text, Usual::Word("cuff"), "name of the piece"),
    ],
    amount: None,
    apply: |pattern, arguments| apply(pattern, arguments, true),
};

fn apply(pattern: &Pattern, arguments: &Arguments, each: bool) -> Result<Done, Finding> {
    let edges = edges(pattern, arguments)?;
    let mut changed = pattern.clone();
    for &(piece, edge) in &edges {
        new_piece::sew(&mut changed.pieces[piece], edge);
    }
    let path = path(pattern, &edges);
    let round = !each
        && edges
            .iter()
            .all(|&(piece, _)| is_half(&pattern.pieces[piece]));
    let path = if round { both_halves(path) } else { path };
    let whole = pattern.side_length(&path);
    let length = arguments.mm("length").unwrap_or(whole);
    let fullness =
        fullness(arguments, length, whole).map_err(|finding| arguments.blame("length", finding))?;
    let band = band(pattern, arguments, (&edges, round), length)?;
    let closes = band.overlap == 0.0 && (each || round && !opens(pattern, &edges));
    let name = band.name.clone();
    changed.pieces.push(band.piece());
    let seam = Seam {
        name: seam_name(pattern, &name),
        held: vec![Stretch::backwards(&name, &band.edge)],
        worked: path,
        fullness,
        runs_on: [false, false],
    };
    mark_joins(&mut changed, &seam, (&name, &band.edge));
    changed.seams.push(seam);
    if closes {
        changed.seams.push(ring(&changed, &name));
    }
    let words = words(&name, &band, fullness, closes);
    let run = changed.pieces[changed.pieces.len() - 1].edges[0].runs[0].clone();
    Ok(Done {
        lines: vec![TraceLine::new(&name, Trace::Redrawn, run)],
        words,
        pattern: changed,
    })
}

fn edges(pattern: &Pattern, arguments: &Arguments) -> Result<Vec<(usize, usize)>, Finding> {
    let mut found = Vec::new();
    for named in arguments.names_of("edge") {
        let seats = find::edges(pattern, &named.piece, &named.name)
            .map_err(|finding| arguments.blame("edge", finding))?;
        for (piece, edge) in seats {
            let owner = &pattern.pieces[piece];
            if walk::is_sewn(pattern, &owner.name, &owner.edges[edge].name) {
                return Err(arguments.blame("edge", sewn(owner, edge)));
            }
            found.push((piece, edge));
        }
    }
    Ok(found)
}

/// The edges as the band meets them: from the centre outwards on the first, then on from seam to seam.
fn path(pattern: &Pattern, edges: &[(usize, usize)]) -> Vec<Stretch> {
    let mut path: Vec<Stretch> = Vec::new();
    for (index, &(piece, edge)) in edges.iter().enumerate() {
        let owner = &pattern.pieces[piece];
        let count = owner.edges.len();
        let beside = [(edge + count - 1) % count, (edge + 1) % count];
        let meets = |other: &Piece, near: usize| {
            let (own, name) = (&owner.edges[near].name, &other.name);
            let (last_piece, last_edge) = edges[index - 1];
            let last = &pattern.pieces[last_piece];
            let ends = [
                (last_edge + last.edges.len() - 1) % last.edges.len(),
                (last_edge + 1) % last.edges.len(),
            ];
            pattern.seams.iter().any(|seam| {
                let all: Vec<Stretch> = [&seam.held, &seam.worked]
                    .into_iter()
                    .flat_map(|side| walk::written_out(pattern, side))
                    .collect();
                let has = |piece: &str, edge: &str| {
                    all.iter().any(|one| one.piece == piece && one.edge == edge)
                };
                has(&owner.name, own) && ends.iter().any(|end| has(name, &last.edges[*end].name))
            })
        };
        let centre = super::kit::frame::centre(owner);
        let backwards = if index == 0 {
            centre == Some(beside[1])
        } else {
            let last = &pattern.pieces[edges[index - 1].0];
            meets(last, beside[1]) && !meets(last, beside[0])
        };
        let (piece, edge) = (owner.name.clone(), owner.edges[edge].name.clone());
        path.push(Stretch {
            piece,
            edge,
            backwards,
        });
    }
    path
}

/// Round both halves: from the opening to the far centre, and back on the other side.
fn both_halves(path: Vec<Stretch>) -> Vec<Stretch> {
    let back = walk::back(&path);
    path.into_iter().chain(back).collect()
}

/// Whether the first edge begins at an opening.
fn opens(pattern: &Pattern, edges: &[(usize, usize)]) -> bool {
    let centres = edges.iter().filter_map(|&(piece, _)| {
        let owner = &pattern.pieces[piece];
        super::kit::frame::centre(owner).map(|centre| owner.edges[centre].kind)
    });
    centres
        .into_iter()
        .any(|kind| kind != crate::piece::EdgeKind::Fold)
}

fn fullness(arguments: &Arguments, held: f64, worked: f64) -> Result<Fullness, Finding> {
    const NOTHING: f64 = 0.01;
    if worked < held - NOTHING {
        return Err(longer(held, worked));
    }
    let more = worked - held;
    Ok(match arguments.word("as")? {
        _ if more <= NOTHING => Fullness::None,
        "pleats" => Fullness::Pleated(more),
        "ease" => Fullness::Eased(more),
        _ => Fullness::Gathered(worked / held),
    })
}

fn band(
    pattern: &Pattern,
    arguments: &Arguments,
    (edges, round): (&[(usize, usize)], bool),
    length: f64,
) -> Result<Band, Finding> {
    let (piece, edge) = edges.first().copied().ok_or_else(|| {
        arguments.blame(
            "edge",
            find::not_there("edge-not-there", "no edge is named".into(), "", &[]),
        )
    })?;
    let owner = &pattern.pieces[piece];
    let cut = if round {
        Cut {
            layer: owner.cut.layer,
            count: 1,
            laid: Laid::Single,
        }
    } else {
        Cut {
            laid: if owner.cut.laid == Laid::Single {
                Laid::Single
            } else {
                Laid::Pair
            },
            ..owner.cut.clone()
        }
    };
    let sewn = match root(&owner.edges[edge].name) {
        // Its own edges have these names.
        taken @ ("start" | "end" | "inside" | "outside" | "overlap") => format!("{taken}-edge"),
        name => name.into(),
    };
    Ok(Band {
        name: piece_name(pattern, arguments.word("name")?),
        edge: sewn,
        length,
        height: arguments.mm("height")?,
        overlap: arguments.mm("overlap")?,
        folded: arguments.is_set("folded"),
        cut,
        allowance: seam_allowance(owner),
    })
}

/// A notch on the band where two edges meet.
fn mark_joins(pattern: &mut Pattern, seam: &Seam, (piece, edge): (&str, &str)) {
    let (held, worked) = (
        pattern.side_length(&seam.held),
        pattern.side_length(&seam.worked),
    );
    let mut passed = 0.0;
    let lengths: Vec<f64> = seam
        .worked
        .iter()
        .map(|stretch| pattern.side_length(std::slice::from_ref(stretch)))
        .collect();
    for length in &lengths[..lengths.len() - 1] {
        passed += length;
        // The sewn edge of a band runs against the walk.
        let along = held - passed * held / worked;
        notches::put(pattern, (piece, edge), "join", along, 1);
    }
}

/// A band without an opening is closed to a ring.
fn ring(pattern: &Pattern, name: &str) -> Seam {
    Seam {
        name: seam_name(pattern, &format!("{name}-ends")),
        held: vec![Stretch::forwards(name, "end")],
        worked: vec![Stretch::backwards(name, "start")],
        fullness: Fullness::None,
        runs_on: [false, false],
    }
}

fn words(name: &str, band: &Band, fullness: Fullness, closes: bool) -> String {
    let taken = match fullness {
        Fullness::Gathered(times) => format!(", with {times:.2} times its length gathered onto it"),
        Fullness::Pleated(more) => format!(", with {more:.0} mm laid in pleats onto it"),
        Fullness::Eased(more) => format!(", with {more:.0} mm eased onto it"),
        Fullness::None => String::new(),
    };
    format!(
        "made a {name} {:.0} mm long and {:.0} mm high{}{taken}{}",
        band.length + band.overlap,
        band.height,
        if band.folded { ", folded" } else { "" },
        if closes { ", closed to a ring" } else { "" }
    )
}

fn sewn(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "edge-is-sewn",
        format!(
            "the {name} of the {} is sewn to another edge already",
            piece.name
        ),
    )
    .at(Spot::Edge {
        piece: piece.name.clone(),
        edge: name.clone(),
        at: None,
    })
    .cure("name edges that are open or hemmed")
}

fn longer(held: f64, worked: f64) -> Finding {
    Finding::error(
        "band-longer-than-edges",
        format!("a band of {held:.0} mm is longer than its edges, which are {worked:.0} mm long"),
    )
    .measured(Quantity::mm(held), Allowed::AtMost(Quantity::mm(worked)))
    .cure("make it shorter, or give what is longer as what lies over")
}
