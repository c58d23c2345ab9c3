//! Handles of steps that are not there yet: the first pull adds the step, later ones turn its number.
//!
//! A dart can be ended elsewhere and the bust point moved on any garment; nobody should have to look for the step first.

use document::Change;
use document::mend::Path;
use making::draft::Draft;
use pattern::{Pattern, Piece};

use crate::desk::Drafted;
use crate::view::drawing::shell_pieces;
use crate::view::numbers::NumberView;
use crate::view::path::rounded;
use crate::view::steps::in_bases;
use crate::view::units::Units;

/// A step that a pull adds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum New {
    /// `shorten-dart`: piece and dart.
    DartEnd(String, String),
    /// `move-bust-point`, upwards.
    BustUp,
    /// The same, away from the centre.
    BustOut,
}

impl New {
    /// All that the garment's own steps do not have already.
    pub(super) fn all(drafted: &Drafted, draft: &Draft) -> Vec<Self> {
        let pattern = &draft.garment.pattern;
        let mut all: Vec<Self> = shell_pieces(pattern)
            .flat_map(|piece| {
                let darts = piece.darts.iter();
                darts.map(|dart| Self::DartEnd(piece.name.clone(), dart.name.clone()))
            })
            .collect();
        if bust_point(pattern).is_some() {
            all.extend([Self::BustUp, Self::BustOut]);
        }
        let own = &draft.recipe.steps[in_bases(draft, &drafted.source)..];
        all.retain(|new| {
            !own.iter().any(|step| {
                let is_same = match new {
                    Self::DartEnd(..) => step.asked.iter().any(|asked| {
                        asked.name == "dart" && asked.span.text().trim_matches('"') == new.dart()
                    }),
                    Self::BustUp | Self::BustOut => true,
                };
                !step.off && step.kind.name == new.step() && is_same
            })
        });
        all
    }

    const fn step(&self) -> &'static str {
        match self {
            Self::DartEnd(..) => "shorten-dart",
            Self::BustUp | Self::BustOut => "move-bust-point",
        }
    }

    fn dart(&self) -> String {
        match self {
            Self::DartEnd(piece, dart) => format!("{piece}.{dart}"),
            Self::BustUp | Self::BustOut => String::new(),
        }
    }

    pub(super) fn id(&self) -> String {
        match self {
            Self::DartEnd(..) => format!("new.dart-end.{}", self.dart()),
            Self::BustUp => "new.bust-point.up".to_owned(),
            Self::BustOut => "new.bust-point.out".to_owned(),
        }
    }

    pub(super) fn label(&self) -> String {
        match self {
            Self::DartEnd(piece, dart) => making::words::sentence(&format!(
                "{} {}: how far before its aim it ends",
                making::words::spoken(piece),
                making::words::spoken(dart)
            )),
            Self::BustUp => "Bust point, upwards".to_owned(),
            Self::BustOut => "Bust point, away from the centre".to_owned(),
        }
    }

    /// What it is now: how far the dart ends before its aim; a point that nobody moved is moved by nothing.
    pub(super) fn value(&self, draft: &Draft) -> Option<f64> {
        match self {
            Self::DartEnd(piece, dart) => {
                let piece = draft.garment.pattern.piece(piece)?;
                let dart = piece.dart(dart)?;
                Some((dart.aim - dart.point).hypot())
            }
            Self::BustUp | Self::BustOut => Some(0.0),
        }
    }

    /// Bounds within those of the step, mm.
    pub(super) const fn bounds(&self) -> (f64, f64) {
        match self {
            Self::DartEnd(..) => (0.0, 300.0),
            Self::BustUp => (-80.0, 80.0),
            Self::BustOut => (-60.0, 60.0),
        }
    }

    /// The step as a line of the recipe; the value stands there with its quotes.
    pub(super) fn change(&self, value: &str) -> Change {
        let line = match self {
            Self::DartEnd(..) => {
                let dart = crate::rewrite::quoted(&self.dart());
                format!("shorten-dart dart={dart} before={value}")
            }
            Self::BustUp => format!("move-bust-point up={value}"),
            Self::BustOut => format!("move-bust-point out={value}"),
        };
        Change::Line {
            block: Path::from("steps"),
            line,
        }
    }

    fn view(&self, draft: &Draft, units: Units) -> Option<NumberView> {
        let (value, (least, most)) = (self.value(draft)?, self.bounds());
        Some(NumberView {
            id: self.id(),
            label: self.label(),
            group: "Darts and bust point".to_owned(),
            value: Some(rounded(value)),
            shown: units.length(value),
            unit: "mm",
            least: Some(least),
            most: Some(most),
            bounds: format!("{} to {}", units.length(least), units.length(most)),
            choices: &[],
            written: false,
            line: None,
        })
    }
}

/// The numbers of steps that can be begun.
pub(crate) fn numbers(drafted: &Drafted, draft: &Draft, units: Units) -> Vec<NumberView> {
    let all = New::all(drafted, draft);
    all.iter()
        .filter_map(|new| new.view(draft, units))
        .collect()
}

fn bust_point(pattern: &Pattern) -> Option<&Piece> {
    shell_pieces(pattern).find(|piece| piece.point("bust-point").is_some())
}
