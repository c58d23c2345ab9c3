//! Zips: invisible and lapped, with the allowance that each needs and the length that is sold.
//!
//! Invariant: a zip is never shorter than its opening.

use document::{Finding, Place};
use pattern::{Closure, Pattern};

use super::path::Path;
use super::{Slit, closing, hooks};
use crate::part::{Asked, figures};

pub(super) fn invisible(pattern: &mut Pattern, asked: &Asked<'_>, path: &Path, slit: &Slit) {
    allow(pattern, path, slit, figures::INVISIBLE_ZIP_ALLOWANCE);
    let length = sold(slit.length() + figures::INVISIBLE_ZIP_SPARE);
    let zip = closing(path, slit, Closure::InvisibleZip, length, 0.0);
    pattern.makeup.closings.push(zip);
    if !slit.whole && slit.to + figures::OPEN_BELOW_ZIP < path.length() {
        path.notch(pattern, "seam-end", slit.to + figures::OPEN_BELOW_ZIP);
        pattern.findings.extend(open_below(path, slit));
    }
    hooks::above_zip(pattern, asked, path, slit);
}

pub(super) fn lapped(pattern: &mut Pattern, asked: &Asked<'_>, path: &Path, slit: &Slit) {
    allow(pattern, path, slit, figures::LAPPED_ZIP_ALLOWANCE);
    let (length, lap) = (sold(slit.length()), figures::ZIP_LAP);
    let zip = closing(path, slit, Closure::LappedZip, length, lap);
    pattern.makeup.closings.push(zip);
    hooks::above_zip(pattern, asked, path, slit);
}

/// The next length in which zips are sold, mm.
pub(super) fn sold(needed: f64) -> f64 {
    (needed / figures::ZIP_STEP - 1e-6).ceil() * figures::ZIP_STEP
}

/// Gives the edges that part at least so much allowance, mm.
fn allow(pattern: &mut Pattern, path: &Path, slit: &Slit, least: f64) {
    let mut top = 0.0;
    let mut wide = Vec::new();
    for legs in [&path.legs, &path.other] {
        for leg in legs {
            if top < slit.to && top + leg.length > slit.from {
                wide.push((leg.piece.clone(), leg.edge.clone()));
            }
            top += leg.length;
        }
        top = 0.0;
    }
    for (piece, edge) in wide {
        let Some(piece) = pattern.piece_mut(&piece) else {
            continue;
        };
        for found in piece.edges.iter_mut().filter(|found| found.name == edge) {
            found.allowance = found.allowance.max(least);
        }
    }
}

fn open_below(path: &Path, slit: &Slit) -> Option<Finding> {
    let spot = path.spots(slit.to).into_iter().next()?;
    let finding = Finding::note(
        "seam-open-below-zip",
        format!(
            "the seam below the invisible zip stays open for {:.0} mm until the zip is in",
            figures::OPEN_BELOW_ZIP
        ),
    );
    Some(
        finding
            .at(Place::Edge {
                piece: spot.piece,
                edge: spot.edge,
                at: None,
            })
            .because("the zip is sewn to allowances that lie flat, and the foot needs room beside its end")
            .cure("sew the seam from the hem up to the notch below the opening, sew the zip in, then close the rest"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zips_are_sold_in_steps() {
        assert_eq!(
            [sold(200.0), sold(201.0), sold(548.0)].map(f64::round),
            [200.0, 250.0, 550.0]
        );
    }
}
