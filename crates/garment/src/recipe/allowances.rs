//! Allowances: what a recipe says of them, and what is usual for its shell cloth where it says nothing.
//!
//! `allowances { seam "12 mm"; edge "front.side" "20 mm" }`. Invariants: what is written counts, whatever the cloth; without a
//! line for the shell in `cloths` the usual values are those of most woven cloth.

use document::{Entry, Finding, check_properties, check_repeats, check_statements};
use pattern::{Cloth, Fraying};

use super::Written;
use super::fields::Fields;
use super::layers::Layers;
use super::place::{self, NameText};
use super::text::Text;
use crate::part::figures;

/// Cloth outside the seam line, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowances {
    /// Seams that have no other.
    pub seam: f64,
    /// CB with its opening.
    pub opening: f64,
    /// Neckline, and armholes without sleeves: edges that are bound or faced.
    pub finished: f64,
    /// Armholes with sleeves, and caps.
    pub armhole: f64,
    /// A neckline with a collar sewn to it.
    pub neckline: f64,
    /// Hem of the skirt or of a bodice without one.
    pub hem: f64,
    /// Hem of the sleeve.
    pub sleeve_hem: f64,
    /// Where the hems that are written stand: of the skirt, of the sleeve.
    pub written_hems: [Option<document::Span>; 2],
    /// Single edges that have their own.
    pub edges: Vec<EdgeAllowance>,
}

/// An allowance for one edge of one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeAllowance {
    /// Piece and edge.
    pub edge: NameText,
    /// Its allowance, mm.
    pub allowance: f64,
}

impl Default for Allowances {
    fn default() -> Self {
        Self::usual(None)
    }
}

impl Allowances {
    /// What is usual for a shell, or for most woven cloth.
    pub fn usual(shell: Option<&Cloth>) -> Self {
        let weight = shell.map_or(0.0, |cloth| cloth.weight);
        let mut rows = figures::ALLOWANCES.iter();
        let row = rows.rfind(|row| row.0 <= weight);
        let mut usual = row.map_or(figures::ALLOWANCES[0].1, |row| row.1);
        if shell.is_some_and(|cloth| cloth.frays == Fraying::Much) {
            let more = figures::MORE_WHERE_IT_FRAYS;
            usual = std::array::from_fn(|k| usual[k] + more[k]);
        }
        let turn = shell.map_or(0.0, turn_of_cloth);
        let [seam, opening, finished, armhole, hem, sleeve_hem] = usual;
        Self {
            seam,
            opening,
            finished: finished + turn,
            armhole,
            // Like the armhole, it is curved, and a wide allowance would have to be clipped.
            neckline: if shell.is_some() { armhole } else { seam },
            hem: hem + turn,
            sleeve_hem: sleeve_hem + turn,
            written_hems: [None, None],
            edges: Vec::new(),
        }
    }
}

/// What a cloth takes where it is folded over itself, in whole mm: the middle of its thickness goes round half a circle as wide
/// as the thickness (derived), π/2 of it.
pub fn turn_of_cloth(cloth: &Cloth) -> f64 {
    let turn = std::f64::consts::FRAC_PI_2 * cloth.thickness;
    if turn < figures::LEAST_TURN_OF_CLOTH {
        0.0
    } else {
        turn.ceil()
    }
}

const LINES: [&str; 8] = [
    "seam",
    "opening",
    "finished-edge",
    "armhole",
    "neckline",
    "hem",
    "sleeve-hem",
    "edge",
];

/// What is written, over what is usual for the shell.
pub(super) fn read(
    garment: &Layers<'_>,
    fields: &mut Fields<'_>,
    shell: Option<&Cloth>,
) -> Allowances {
    let usual = Allowances::usual(shell);
    let Some(block) = garment.block("allowances") else {
        return usual;
    };
    for layer in block.all() {
        let findings = &mut fields.findings;
        findings.extend(check_statements(layer.children(), &LINES));
        let (edges, lines): (Vec<Entry>, Vec<Entry>) = layer
            .children()
            .iter()
            .cloned()
            .partition(|line| line.name() == "edge");
        findings.extend(check_repeats(&lines));
        findings.extend(edges.iter().flat_map(|line| check_properties(line, &[])));
    }
    let mut line = |name: &str, most: f64, usual: f64| {
        fields
            .length_line(&block, name, &(0.0..=most))
            .unwrap_or(usual)
    };
    let written = |name: &str| block.child(name).map(|line| line.span().clone());
    Allowances {
        seam: line("seam", 60.0, usual.seam),
        opening: line("opening", 60.0, usual.opening),
        finished: line("finished-edge", 40.0, usual.finished),
        armhole: line("armhole", 40.0, usual.armhole),
        neckline: line("neckline", 40.0, usual.neckline),
        hem: line("hem", 200.0, usual.hem),
        sleeve_hem: line("sleeve-hem", 100.0, usual.sleeve_hem),
        written_hems: [written("hem"), written("sleeve-hem")],
        edges: block
            .all()
            .flat_map(|layer| layer.children_named("edge"))
            .filter_map(|line| edge(line, fields))
            .collect(),
    }
}

/// A line `edge "front.side" "20 mm"`.
fn edge(line: &Entry, fields: &mut Fields<'_>) -> Option<EdgeAllowance> {
    let [named, length] = line.arguments() else {
        fields.findings.push(two_values(line));
        return None;
    };
    fields.keep(named.text())?;
    let name = Text::of(named).map(|text| place::part(&text));
    Some(EdgeAllowance {
        edge: fields.keep(name?)?,
        allowance: fields.length_of("edge", length, &(0.0..=200.0))?,
    })
}

fn two_values(line: &Entry) -> Finding {
    Finding::error(
        "value-missing",
        format!(
            "“edge” takes an edge and a length and has {}.",
            match line.arguments().len() {
                0 => "neither".to_owned(),
                1 => "one of them".to_owned(),
                more => format!("{more} values"),
            }
        ),
    )
    .at_text(line.span(), "needs an edge and a length")
    .allowed("an edge and a length, each in quotes")
    .cure("Write, for example: edge \"front.side\" \"20 mm\"")
}

impl EdgeAllowance {
    /// Names of piece and edge, each with its place.
    pub fn names(&self) -> (&Written<String>, &Written<String>) {
        let edge = self.edge.name.as_ref();
        (&self.edge.piece, edge.unwrap_or(&self.edge.piece))
    }
}
