//! Every figure that a part takes from practice instead of from the body or the cloth, in one table.
//!
//! Marked †: common practice, no source; to be tuned by making. Lengths in mm, angles in degrees. One section a part, in the
//! order of the alphabet.

// Allowances.

/// Usual allowances of seams, openings, finished edges, armholes, hems and sleeve hems, by the weight of the shell from so many
/// g/m² on. Home seam allowance 5/8 in, skirt hem 2–3 in: Butterick, *The Dressmaker*, 1911; coating weighs 340 and up (trade
/// pages); the others †.
pub(crate) const ALLOWANCES: [(f64, [f64; 6]); 2] = [
    (0.0, [15.0, 20.0, 10.0, 12.0, 50.0, 30.0]),
    (340.0, [20.0, 25.0, 12.0, 15.0, 60.0, 40.0]),
];
/// What a cloth that frays much gets more, in the same order: what is lost before it is neatened. †
pub(crate) const MORE_WHERE_IT_FRAYS: [f64; 6] = [5.0, 5.0, 2.0, 3.0, 0.0, 0.0];
/// Turn of cloth below this is lost in the hand of whoever folds it. †
pub(crate) const LEAST_TURN_OF_CLOTH: f64 = 1.0;
