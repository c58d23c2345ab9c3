//! The lining: a second garment inside the shell.
//!
//! **What it does.** Copies every piece of bodice, sleeves and skirt, gives the copies what sets a lining apart, sews them as
//! the shell is sewn and says on which edges the two lie on each other. Three ways: *mounted* — each piece laid flat on its
//! shell piece and sewn with it as one; *open* — a garment of its own inside the shell, its neckline and armholes raw until the
//! end and felled by hand, its waist caught on the shell's waist; *bagged* — sewn to the facings by machine and turned through a
//! gap.
//! **When it is used.** Mounted where thin or loose cloth wants support; open where a good garment shall be altered later;
//! bagged where it shall be quick.
//! **Example.** `lining "open" { shorter "25 mm"; pleat "20 mm" }`.
//! **What can go wrong.** A lining that is as long as its shell shows at the hem, one that is sewn to the hem without a fold
//! pulls it up, one without a pleat tears at the armholes; an open one takes hours by hand.
//!
//! Knows no facing but by its outer edge. Invariants: derived pieces are called `front-lining`, seams `lining-…`; whatever
//! changes against the shell is a number of [`inner::Meet`], walked by the checks.

mod by_hand;
mod cut_back;
mod facing_edge;
mod hem;
mod inner;
mod pleat;
mod sewn;
mod skirt;
mod sleeve;
mod soft_darts;

use document::{Finding, Mend, Place};
use pattern::{LiningWay, Mark, Pattern, Seam, name};

use super::Asked;
use super::figures::{LINING_CAP_EASE, LINING_SHORTER, ZIP_CLEARANCE};
use crate::assemble::allowances;
use crate::block::skirt::Skirt;
use crate::block::skirt::found::is_skirt;
use crate::recipe::Written;
use crate::recipe::parts::LiningWish;
use hem::HemWay;
use inner::Inner;
use sleeve::SleeveWish;

pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    let Some(wish) = &asked.recipe.parts.lining else {
        return Ok(());
    };
    let shell = pattern.clone();
    let own_skirt = own_skirt(&shell, asked, wish)?;
    let mut inners: Vec<Inner> = inner::lined(&shell)
        .filter(|piece| own_skirt.is_none() || !is_skirt(&piece.name))
        .map(|piece| Inner::copy(piece, &wish.span))
        .collect();
    let mut making = Making {
        shell: &shell,
        wish,
        seam: asked.recipe.allowances.seam,
        hems: Vec::new(),
        findings: Vec::new(),
    };
    if wish.value.way == LiningWay::Bagged {
        for inner in &mut inners {
            facing_edge::cut(inner, &shell, asked.recipe.allowances.seam, &wish.span)?;
        }
    }
    if wish.value.way != LiningWay::Mounted {
        making.set_apart(&mut inners);
    }
    if let Some(skirt) = &own_skirt {
        pattern.findings.extend(skirt.findings.clone());
        let pieces = skirt.pieces.iter().cloned();
        let lies = skirt::lies(&shell, skirt);
        inners.extend(
            pieces
                .zip(lies)
                .map(|(piece, lies)| Inner::alone(piece, lies.upon)),
        );
    }
    making.slits(&mut inners);
    let Making { hems, findings, .. } = making;
    pattern.findings.extend(findings);
    join(pattern, &shell, &inners, own_skirt.as_ref(), wish.value.way);
    if wish.value.soft_darts {
        let peak = asked.recipe.parts.waist.as_ref();
        let hangs = peak.is_some_and(|peak| peak.value > 0.0);
        soft_darts::lay(pattern, hangs)
            .map_err(|finding| finding.at_text(&wish.span, "lined here"))?;
    }
    by_hand::tell(pattern, &shell, &inners, wish, &hems);
    Ok(())
}

/// The skirt of the lining, where it is cut otherwise than the shell's.
fn own_skirt(
    shell: &Pattern,
    asked: &Asked<'_>,
    wish: &Written<LiningWish>,
) -> Result<Option<Skirt>, Finding> {
    let Some(part) = &wish.value.skirt else {
        return Ok(None);
    };
    let shorter = wish.value.shorter.as_ref();
    let shorter = shorter.map_or(LINING_SHORTER, |shorter| shorter.value);
    let mut skirt = skirt::draft(shell, asked, part, shorter)?;
    skirt::dress(&mut skirt, asked, &wish.value, &part.span);
    Ok(Some(skirt))
}

/// What a lining is made from.
struct Making<'a> {
    shell: &'a Pattern,
    wish: &'a Written<LiningWish>,
    seam: f64,
    /// How each hem is made: number of the piece, name of the edge, way.
    hems: Vec<(usize, String, HemWay)>,
    findings: Vec<Finding>,
}

impl Making<'_> {
    /// Gives the copies what sets a lining apart from its shell.
    fn set_apart(&mut self, inners: &mut [Inner]) {
        if let Some(pleat) = &self.wish.value.pleat
            && pleat.value.width > 0.0
            && !pleat::give(inners, pleat.value)
        {
            self.findings.push(no_back(&pleat.span));
        }
        for inner in inners.iter_mut() {
            if name::root(&inner.upon) == "sleeve" {
                self.sleeve(inner);
            }
        }
        for (index, inner) in inners.iter_mut().enumerate() {
            self.hems(index, inner);
            clear_of_closing(inner);
        }
    }

    /// Leaves the side seams open above the hem.
    fn slits(&mut self, inners: &mut [Inner]) {
        let Some(slits) = &self.wish.value.slits else {
            return;
        };
        let mut open = false;
        for inner in inners.iter_mut().filter(|inner| is_skirt(&inner.upon)) {
            open |= skirt::slit(&mut inner.piece, slits.value);
        }
        if !open {
            self.findings.push(no_sides(&slits.span));
        }
    }

    fn sleeve(&mut self, inner: &mut Inner) {
        let armhole = inner
            .piece
            .edge("cap-front")
            .map_or(0.0, |cap| cap.allowance);
        let wish = SleeveWish {
            raise: self.wish.value.raise.unwrap_or(armhole),
            cap_ease: self.wish.value.cap_ease,
            share: LINING_CAP_EASE,
        };
        if sleeve::shape(inner, self.shell, wish).is_none() {
            self.findings.push(sleeve_as_shell(inner, self.wish));
        }
    }

    fn hems(&mut self, index: usize, inner: &mut Inner) {
        let sleeve = name::root(&inner.upon) == "sleeve";
        let usually = sleeve || self.wish.value.way == LiningWay::Bagged;
        for edges in hem::chains(inner) {
            let depth = hem::shell_depth(&self.shell.makeup, inner, edges[0]);
            let way = if sleeve {
                HemWay::of_sleeve(&self.wish.value, depth)
            } else {
                HemWay::of(&self.wish.value, depth, usually)
            };
            if hem::make(inner, &edges, way, &self.wish.value, self.seam) {
                let names = edges
                    .iter()
                    .map(|&edge| inner.piece.edges[edge].name.clone());
                self.hems.extend(names.map(|name| (index, name, way)));
            } else {
                self.findings.push(no_room(inner, edges[0], self.wish));
            }
        }
    }
}

/// Puts pieces, seams and mates into the pattern.
fn join(
    pattern: &mut Pattern,
    shell: &Pattern,
    inners: &[Inner],
    own_skirt: Option<&Skirt>,
    way: LiningWay,
) {
    let first = pattern.pieces.len();
    for inner in inners {
        pattern.pieces.push(inner.piece.clone());
        pattern.makeup.lies.push(inner.lies());
    }
    pattern.makeup.mates.extend(inner::mates(inners));
    // Mounted pieces are sewn with their shell pieces as one.
    if way == LiningWay::Mounted {
        return;
    }
    let of_skirt = |seam: &&Seam| {
        let mut sides = seam.held.iter().chain(&seam.worked);
        sides.any(|one| is_skirt(&one.piece))
    };
    let seams = shell.seams.iter();
    let mut sewn: Vec<Seam> = seams
        .filter(|seam| own_skirt.is_none() || !of_skirt(seam))
        .filter_map(|seam| sewn::fellow(pattern, inners, seam))
        .collect();
    if let Some(skirt) = own_skirt {
        let waist = skirt::waist_seams(pattern, inners, skirt);
        sewn.extend(skirt.seams.iter().cloned().chain(waist));
        pattern
            .makeup
            .mates
            .extend(skirt::waist_mate(pattern, shell, skirt));
    }
    let mut lining = Pattern {
        pieces: pattern.pieces.split_off(first),
        seams: sewn,
        ..Pattern::default()
    };
    allowances::as_sewn(&mut lining);
    pattern.pieces.append(&mut lining.pieces);
    pattern.seams.append(&mut lining.seams);
}

/// Buttons and hooks are the shell's; the opening of the lining ends lower than that of the shell, clear of the slider.
fn clear_of_closing(inner: &mut Inner) {
    let of_closing = |name: &str| name.starts_with("button") || name == "hook";
    let piece = &mut inner.piece;
    piece.lines.retain(|line| !of_closing(&line.name));
    piece.marks.retain(|mark| match mark {
        Mark::Notch { name, .. } | Mark::Point { name, .. } => !of_closing(name),
    });
    let edges = &piece.edges;
    for mark in &mut piece.marks {
        let Mark::Notch {
            name, edge, along, ..
        } = mark
        else {
            continue;
        };
        let on = edges.iter().find(|one| one.name == *edge);
        if let Some(edge) = on.filter(|_| name == "opening-end") {
            let down = if edge.start().y < edge.end().y {
                ZIP_CLEARANCE
            } else {
                -ZIP_CLEARANCE
            };
            *along = (*along + down).clamp(0.0, edge.length());
        }
    }
}

fn no_back(span: &document::Span) -> Finding {
    Finding::warning(
        "pleat-without-back",
        "The lining has no back for the pleat.",
    )
    .at_text(span, "nowhere to lie")
    .because("an ease pleat lies at CB of a bodice, from neck to waist")
    .cure("take the line away")
    .mend(Mend::remove(&["lining", "pleat"], "leaves the pleat out"))
}

fn no_sides(span: &document::Span) -> Finding {
    Finding::warning(
        "slit-without-side",
        "no side seam of the lining is long enough for these slits",
    )
    .at_text(span, "nowhere to open")
    .because("a slit is the lower part of a side seam that is left open")
    .cure("ask for shorter slits, or take the line away")
    .mend(Mend::remove(&["lining", "slits"], "closes the side seams"))
}

fn sleeve_as_shell(inner: &Inner, wish: &Written<LiningWish>) -> Finding {
    Finding::note(
        "lining-sleeve-as-shell",
        format!("the lining of the {} is cut as the shell", inner.upon),
    )
    .at_text(&wish.span, "lined here")
    .at(Place::Piece(inner.piece.name.clone()))
    .because("its underarm rises and its cap loses ease only where the sleeve is one piece with a smooth cap")
    .cure("raise its underarm by the armhole's allowance when it is fitted")
}

fn no_room(inner: &Inner, edge: usize, wish: &Written<LiningWish>) -> Finding {
    let hem = &inner.piece.edges[edge].name;
    Finding::warning(
        "lining-hem-as-shell",
        format!(
            "the {hem} of the {} cannot be cut back, so it is as long as the shell",
            inner.piece.title().to_lowercase()
        ),
    )
    .at_text(&wish.span, "lined here")
    .at(Place::Edge {
        piece: inner.piece.name.clone(),
        edge: hem.clone(),
        at: None,
    })
    .because("the edges beside it are too short, or do not stand on it")
    .cure("mark the hem of the lining on the finished garment")
}

#[cfg(test)]
mod tests;
