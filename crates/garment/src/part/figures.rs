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

// Closings.

/// Buttons where no diameter is given. †
pub(crate) const BUTTON: f64 = 18.0;
/// How far buttons are apart at the most. †
pub(crate) const BUTTON_SPACING: f64 = 90.0;
/// What the overlap has beyond half a button: 1/4 in. Source: Watson, *Textiles and Clothing*, 1907.
pub(crate) const BUTTON_STAND_BEYOND: f64 = 6.35;
/// What a buttonhole is longer than the diameter of a flat button: 1/8 in. Source: the same.
pub(crate) const BUTTONHOLE_OVER_FLAT: f64 = 3.175;
/// How many times the diameter of a ball its buttonhole is long. Source: the same.
pub(crate) const BUTTONHOLE_OVER_ROUND: f64 = 1.25;
/// A buttonhole begins so far beyond the centre line, where the shank pulls: 1/8 in. †
pub(crate) const BUTTONHOLE_BEYOND: f64 = 3.0;
/// The last button is so far above the hem. †
pub(crate) const BUTTON_ABOVE_HEM: f64 = 120.0;
/// The last button of a bodice on its own is so far above its hem. †
pub(crate) const BUTTON_ABOVE_WAIST_HEM: f64 = 30.0;
/// A hook lies so far within the end that it holds. †
pub(crate) const HOOK_INSET: f64 = 8.0;
/// How far hooks are apart. †
pub(crate) const HOOK_SPACING: f64 = 25.0;
/// A waistband of this height or more takes two hooks. †
pub(crate) const TWO_HOOKS_FROM: f64 = 30.0;
/// Allowance under an invisible zip at the least: the tape's half width and a little. †
pub(crate) const INVISIBLE_ZIP_ALLOWANCE: f64 = 15.0;
/// What an invisible zip is longer than its opening, since its slider cannot be sewn to the end. †
pub(crate) const INVISIBLE_ZIP_SPARE: f64 = 25.0;
/// The seam below an invisible zip stays open so far until the zip is in: 1 1/2 in. †
pub(crate) const OPEN_BELOW_ZIP: f64 = 38.0;
/// Lap over a lapped zip: 1/2 in. †
pub(crate) const ZIP_LAP: f64 = 12.0;
/// Allowance of the edges of a lapped zip: the lap, its stitching and the tape; 1 in. †
pub(crate) const LAPPED_ZIP_ALLOWANCE: f64 = 25.0;
/// A zip in a side seam begins so far below the armhole, where the seams cross. †
pub(crate) const SIDE_OPENING_BELOW_ARMHOLE: f64 = 25.0;
/// Width of the facing behind a button stand. †
pub(crate) const STAND_FACING: f64 = 65.0;
/// Zips are sold in steps of this (2 in). †
pub(crate) const ZIP_STEP: f64 = 50.0;
/// What the opening leaves over hips less waist: 2 in. Source: a trade magazine's worked example, 14 in difference: 8 in.
pub(crate) const OPENING_OVER_HIPS: f64 = 50.8;
/// An opening that ends nearer to the hem than this goes on to the hem. †
pub(crate) const LEAST_SEAM_BELOW: f64 = 60.0;

// Facings.

/// Width of a facing where none is asked for, and the least that lies flat and stays inside: 2 in. † (seen on a teaching page)
pub(crate) const FACING_WIDTH: f64 = 50.8;
/// A facing that has no room is narrowed down to this at the least. †
pub(crate) const LEAST_FACING: f64 = 20.0;
/// Facings end so far from the next edge at the least, which must be free for its own seam. †
pub(crate) const FACING_ROOM: f64 = 6.0;
/// Radius to which hollows of a facing's outer edge are rounded. †
pub(crate) const FACING_HOLLOW: f64 = 40.0;
/// A facing is drawn in at its edge by so many times the stack of cloth that is turned there: shell and facing, the allowance of
/// each, and interfacing. †
pub(crate) const UNDER_CUT: f64 = 1.0;
/// Edge of a facing that is neatened flat, by how its cloth frays: little, some, much. †
pub(crate) const FACING_OUTER: [f64; 3] = [0.0, 6.0, 6.0];
/// A seam of a facing is joined away only where its sides, laid together, lie no farther apart than this within the facing. †
pub(crate) const JOINED_APART: f64 = 3.0;
/// A faced edge longer than this takes a notch to match. †
pub(crate) const FACING_NOTCH_OVER: f64 = 150.0;

// Hand sewing.

/// Stitches a minute by hand, slow and quick: Cooper, *The Invention of the Sewing Machine*, Smithsonian Bulletin 254, 1968,
/// from a time study of 1861.
pub(crate) const HAND_STITCHES: [f64; 2] = [20.0, 30.0];
/// Length of a felling stitch. †
pub(crate) const FELLING_STITCH: f64 = 3.0;
/// Length of a basting stitch that holds two layers flat. †
pub(crate) const BASTING_STITCH: f64 = 12.0;

// Hems.

/// A hem is turned as long as the edge of what is turned up differs from its line by this share at the most; a very flaring hem
/// takes a shaped facing (Butterick, *The Dressmaker*, 1911; Baldt, *Clothing for Women*, 1916). The share: †
pub(crate) const MOST_HEM_SURPLUS: f64 = 0.04;
/// The same where it is shorter, as at a sleeve that narrows: across its threads cloth gives, and a seam can be let open. †
pub(crate) const MOST_HEM_SHORTAGE: f64 = 0.1;
/// Depths of turned hems are rounded down to this where they must be reduced. †
pub(crate) const HEM_STEP: f64 = 5.0;
/// Finished depth of a faced, a narrow and a bound hem where none is asked for. †
pub(crate) const HEM_DEPTHS: [f64; 3] = [60.0, 6.0, 8.0];
/// A hem facing is stitched so far inside the shell's cut edge. †
pub(crate) const HEM_FACING_SEAM: f64 = 6.0;
/// The far edge of a hem facing is turned under by this. †
pub(crate) const HEM_FACING_TURN: f64 = 6.0;
/// So much of the shell shows inside below a hem facing. †
pub(crate) const HEM_OVERHANG: f64 = 13.0;
/// A hem facing stays so far from what lies above it. †
pub(crate) const HEM_FACING_ROOM: f64 = 20.0;
/// A shell thicker than this is not turned twice at a narrow hem. †
pub(crate) const THICKEST_NARROW_HEM: f64 = 0.8;

// Interfacing and stays.

/// Interfacing that is fused ends so far within the seam line, so that no seam is stiffened. †
pub(crate) const WITHIN_SEAM: f64 = 2.0;
/// Width of a stay tape where none is asked for. †
pub(crate) const STAY_TAPE: f64 = 10.0;
/// An edge that runs farther off the threads than this gives when it is handled, degrees. †
pub(crate) const OFF_GRAIN: f64 = 20.0;
/// Share of an edge that must run off the grain before it is held. †
pub(crate) const OFF_GRAIN_SHARE: f64 = 0.15;
/// An edge that turns through more than this is held by stitches, which follow a curve; a straighter one by tape, degrees. †
pub(crate) const TAPE_TURNS: f64 = 30.0;

// Lining.

/// A lining that hangs free is so much shorter than its shell. †
pub(crate) const LINING_SHORTER: f64 = 25.0;
/// Hem allowance of a lining that hangs free: turned twice, 10 mm each. †
pub(crate) const LINING_HEM: f64 = 20.0;
/// A lining that is sewn to the hem is so much longer than the way from waist to hem, and lies in a fold of half of it. †
pub(crate) const LINING_JUMP: f64 = 20.0;
/// A hem of less than this has no allowance to which a lining could be sewn. †
pub(crate) const LEAST_HEM_FOR_JUMP: f64 = 25.0;
/// The gap through which a bagged lining is turned. †
pub(crate) const TURNING_GAP: f64 = 200.0;
/// The opening of the lining ends so much lower than the zip, clear of its slider. †
pub(crate) const ZIP_CLEARANCE: f64 = 10.0;
/// What a seam of a lining gives where a facing does not end equally far from the edge on both sides. †
pub(crate) const LINING_GIVES: f64 = 2.0;
/// Share of the shell's cap ease that a lining sleeve has: thin cloth shows in puckers what wool takes. †
pub(crate) const LINING_CAP_EASE: f64 = 0.5;

// Pockets.

/// A bag and a patch have so much outside their seam lines: the bag is sewn round, the patch turned under. †
pub(crate) const BAG_ALLOWANCE: f64 = 12.0;
/// A bag goes on so far above and below its opening. †
pub(crate) const BAG_BEYOND_OPENING: f64 = 20.0;
/// A bag keeps so far from CF, where the other one hangs. †
pub(crate) const BAG_CLEAR_OF_CENTRE: f64 = 10.0;
/// The top of a bag passes so far below the end of a dart. †
pub(crate) const BAG_CLEAR_OF_DART: f64 = 8.0;
/// A bag ends so far above the hem's own cloth. †
pub(crate) const BAG_CLEAR_OF_HEM: f64 = 20.0;
/// A patch is turned under by so much. †
pub(crate) const PATCH_TURNED: f64 = 12.0;
/// Hem at the top of a patch. †
pub(crate) const PATCH_HEM: f64 = 30.0;
/// Width and height of a patch on a skirt. †
pub(crate) const PATCH_ON_SKIRT: [f64; 2] = [150.0, 170.0];
/// Width and height of a patch on a bodice. †
pub(crate) const PATCH_ON_BODICE: [f64; 2] = [100.0, 115.0];
/// Top of a patch on a skirt below the waist. †
pub(crate) const PATCH_BELOW_WAIST: f64 = 90.0;
/// A patch is set so far below the end of a dart where nobody says how low. †
pub(crate) const PATCH_CLEAR_OF_DART: f64 = 15.0;
/// A patch on a skirt lies so far from the side. †
pub(crate) const PATCH_FROM_SIDE: f64 = 50.0;
/// How far the point of a pointed patch falls, over its width. †
pub(crate) const PATCH_POINT: f64 = 0.2;
/// Radius of the corners of a rounded patch. †
pub(crate) const PATCH_RADIUS: f64 = 40.0;
/// How far the bag reaches inwards and hangs below its opening: room for a hand. †
pub(crate) const POCKET_BAG_WIDTH: f64 = 165.0;
/// See [`POCKET_BAG_WIDTH`].
pub(crate) const POCKET_BAG_DEPTH: f64 = 120.0;
/// Top of the opening of a pocket in a seam below the waist: 75 to 90 are comfortable. †
pub(crate) const POCKET_BELOW_WAIST: f64 = 80.0;
/// Length of the opening: 5 to 6 1/2 in. †
pub(crate) const POCKET_OPENING: f64 = 150.0;
/// Openings through which a hand goes and that do not gape. †
pub(crate) const POCKET_MOUTH: [f64; 2] = [127.0, 165.1];
/// Width of the tape that holds a bag. †
pub(crate) const POCKET_TAPE: f64 = 10.0;
/// The opening lies neither higher nor lower than this. †
pub(crate) const POCKET_TOP: [f64; 2] = [60.0, 100.0];
/// So much of a tape is caught at either end. †
pub(crate) const TAPE_CAUGHT: f64 = 15.0;

// Vents.

/// How far the sides of a vent lie over each other where nothing is asked for. †
pub(crate) const VENT_WIDTH: f64 = 40.0;
/// The edge of a vent's extension is turned by this. †
pub(crate) const VENT_TURN: f64 = 10.0;
/// Both sides of a slit are turned back by this. †
pub(crate) const SLIT_TURN: f64 = 25.0;
/// Of the seam above a vent or slit remains so much at the least. †
pub(crate) const SEAM_ABOVE_VENT: f64 = 60.0;

// Waist.

/// Allowance of a front that is turned in and felled over the waist seam. †
pub(crate) const FELLED_EDGE: f64 = 12.0;
