//! Every figure that a draft takes from practice instead of from the body, in one table.
//!
//! Marked †: common practice, no source; to be tuned by measurement. Lengths in mm, angles in degrees.

/// Neck: fifth part of the neck base girth, less this, is the back neck width. †
pub const BACK_NECK_WIDTH_LESS: f64 = 2.0;
/// The same for the front, which is a little narrower. †
pub const FRONT_NECK_WIDTH_LESS: f64 = 4.0;
/// Part of the neck base girth that is the width of the neck on either side. †
pub const NECK_WIDTH_SHARE: f64 = 1.0 / 5.0;
/// Part of the neck base girth by which the side neck point stands above the nape. †
pub const BACK_NECK_RISE_SHARE: f64 = 1.0 / 17.0;
/// Bounds between which the front neck depth is solved.
pub const FRONT_NECK_DEPTH: [f64; 2] = [30.0, 180.0];

/// The shoulder seam lies forward of the body's ridge: the back slopes less, the front more. †
pub const SHOULDER_SLOPE_SHIFT: f64 = 2.5;
/// Back shoulder longer than front, eased in: 1/4 in. Source: Prince Browne, *Every Woman's Encyclopaedia* vol. 4, 1910–12.
pub const SHOULDER_EASE: f64 = 6.0;

/// The armhole's lowest point lies below the body's armpit level by 20–25. †
pub const UNDERARM_DROP: f64 = 25.0;
/// A garment without sleeves closes higher under the arm by this. †
pub const SLEEVELESS_RAISE: f64 = 10.0;
/// Finished armhole over armscye girth: from and to. †
pub const ARMHOLE_OVER_ARMSCYE: [f64; 2] = [1.00, 1.05];
/// What the rule from the armpit level leaves open, mm: the drop itself, and where a tape or a survey puts the armpit. †
pub const ARMPIT_RULE_SPREAD: f64 = 8.0;
/// What the rule from the armscye girth leaves open, mm of depth: half of 0.05 of a girth, as depth. †
pub const ARMSCYE_RULE_SPREAD: f64 = 6.0;
/// Depth of the underarm per mm of armhole: front and back each grow by a little less than the depth. †
pub const DEPTH_PER_ARMHOLE: f64 = 0.55;
/// Armpit level and armscye girth may place the underarm so far apart at the least, or two joint spreads.
pub const UNDERARM_DISAGREES: f64 = 15.0;
/// The back takes so much less, the front so much more than a quarter of upper chest and ease. †
pub const SIDE_SEAM_SHIFT: f64 = 2.0;
/// Where across back is measured: part of the way from shoulder point to underarm level, from and to. †
pub const ACROSS_BACK_LEVEL: [f64; 2] = [0.40, 0.60];
/// The same for across front. †
pub const ACROSS_FRONT_LEVEL: [f64; 2] = [0.40, 0.68];

/// The least width of the armhole's bottom between the across line and the side seam. †
pub const LEAST_ARMHOLE_WIDTH: f64 = 26.0;

/// Bust dart from girths: what a bust no larger than the upper chest takes. Measured on seventeen solid model bodies (see
/// docs/drafting.md), 0.7 of the enclosed curvature.
pub const DART_OF_FLAT_BUST: f64 = 17.5;
/// Bust dart from girths: radius over which the extra girth is spread; α = 17.5° + 2·asin((B − U)/(4·150)).
pub const DART_RADIUS: f64 = 150.0;
/// The least bust dart.
pub const LEAST_BUST_DART: f64 = 3.0;
/// The most that either witness may ask for.
pub const MOST_BUST_DART: f64 = 70.0;
/// Bust dart from lengths: height of the front armhole over that of the back. †
pub const FRONT_OVER_BACK_ARMHOLE: f64 = 0.75;
/// What either rule leaves open, degrees: the spread on the model bodies, times 0.7.
pub const WITNESS_SPREAD: f64 = 5.6;
/// The witnesses contradict each other when they differ by more than so many joint spreads.
pub const WITNESSES_DISAGREE: f64 = 2.0;

/// How far a bust dart ends short of the bust point: 25 + 0.3·(bust − under-bust − 100), within bounds. †
pub const DART_END_BASE: f64 = 25.0;
/// Growth of that distance with the cup. †
pub const DART_END_GROWTH: f64 = 0.3;
/// Cup (bust − under-bust) at which the distance is the base. †
pub const DART_END_CUP: f64 = 100.0;
/// Bounds of that distance. †
pub const DART_END: [f64; 2] = [20.0, 70.0];
/// The least length of a bust dart.
pub const LEAST_DART_LENGTH: f64 = 45.0;
/// Where a side dart opens: part of the side seam below the underarm, from and to. †
pub const SIDE_DART_PLACE: [f64; 2] = [0.34, 0.72];
/// A side dart slants down from the bust point by at least this. †
pub const SIDE_DART_SLANT: f64 = 18.0;

/// No waist dart takes more than this; more darts share the rest. †
pub const MOST_WAIST_DART: f64 = 40.0;
/// A waist dart of less than this is not worth sewing; the side seam takes it. †
pub const LEAST_WAIST_DART: f64 = 6.0;
/// Share of the smaller of front and back suppression that the side seam takes. †
pub const SIDE_SHARE: f64 = 0.4;
/// The most that a side seam takes at the waist, unless two darts of the largest size cannot take the rest. †
pub const MOST_SIDE_TAKE: f64 = 25.0;
/// So many darts are sewn into a quarter before the side seam takes more than its share. †
pub const DARTS_A_QUARTER: f64 = 2.0;
/// Share of the back suppression that a shaped CB seam takes, and the most. †
pub const CENTRE_BACK_SHARE: f64 = 0.2;
/// The most that a shaped CB seam takes at the waist. †
pub const MOST_CENTRE_BACK_TAKE: f64 = 14.0;
/// A waist dart ends so far below the bust point. †
pub const WAIST_DART_END: f64 = 25.0;
/// A back waist dart ends so far below the underarm level. †
pub const BACK_DART_END: f64 = 15.0;

/// Front share of the girth where arcs were not taped: at the waist and the hip. Measured on sixteen solid model bodies.
pub const FRONT_SHARE_OF_WAIST: f64 = 0.54;
/// See [`FRONT_SHARE_OF_WAIST`].
pub const FRONT_SHARE_OF_HIP: f64 = 0.50;

/// Hem of a flared skirt where none is asked for, over hip and ease. †
pub const SWEEP_OVER_HIP: f64 = 1.35;
/// How many times its waist a gathered skirt is wide where nothing is asked for. †
pub const GATHERED: f64 = 2.0;
/// Hem of a gored skirt where none is asked for, over hip and ease. †
pub const GORED_SWEEP_OVER_HIP: f64 = 1.8;
/// The widest angle of one gore, radians: more than a sixth of a circle hangs in folds of its own. †
pub const MOST_GORE_ANGLE: f64 = 1.2;
/// The most of a circle that one skirt is cut from. †
pub const MOST_CIRCLES: f64 = 1.5;
/// The smallest radius of a waist that can be sewn, mm. †
pub const LEAST_WAIST_RADIUS: f64 = 50.0;
/// Width of the cloth of a pleated skirt over its hip: from and to. †
pub const PLEATED: [f64; 2] = [1.15, 4.0];
/// The same where nothing is asked for: three times makes each pleat meet the next. Conover, *A Complete Course in Dressmaking*
/// vol. 5, 1921, has 44 in over a hip of 20.
pub const PLEATED_TIMES: f64 = 3.0;
/// The same for inverted pleats, of which there are few. †
pub const INVERTED_TIMES: f64 = 1.6;
/// So many inverted pleats where nothing is asked for: at CF, CB and over both side seams. †
pub const INVERTED_PLEATS: u32 = 4;
/// Over so many times the hip, knife and box pleats lie over each other: strip, fold and fold (derived).
pub const PLEATS_OVERLAP: f64 = 3.0;
/// The least that one pleat takes up. †
pub const LEAST_PLEAT: f64 = 8.0;
/// Strip between knife pleats where no number is asked for. †
pub const KNIFE_STRIP: f64 = 40.0;
/// Strip of a box pleat where no number is asked for. †
pub const BOX_STRIP: f64 = 70.0;
/// How far the fronts of a wrapped skirt lie over each other where nothing is asked for. †
pub const WRAP_OVERLAP: f64 = 200.0;
/// Facing cut on to its front edges. †
pub const WRAP_FACING: f64 = 50.0;
/// Hem of the smooth part of a fan over hip and ease. †
pub const FAN_SMOOTH_SWEEP: f64 = 1.15;
/// Hem of a fan where none is asked for, over hip and ease. †
pub const FAN_SWEEP: f64 = 2.2;
/// How many times its place at the waist the fullness of a fan is there. †
pub const FAN_TIMES: f64 = 2.5;
/// Share of the back waist, from CB, onto which the fullness of a fan is worked. †
pub const FAN_STRETCH: f64 = 0.3;
/// The widest angle that is added at CB on either side: a quarter circle. †
pub const MOST_FAN_ANGLE: f64 = std::f64::consts::FRAC_PI_2;
/// Strip between the pleats of a fan. †
pub const FAN_STRIP: f64 = 15.0;
/// How far down from the waist the pleats of a fan are drawn. †
pub const FAN_PLEAT_LENGTH: f64 = 80.0;
/// The least hem of a flared skirt over hip and ease, when the fullest is looked for. †
pub const LEAST_FLARE: f64 = 1.02;
/// Share of the smaller of front and back suppression that the skirt's side seam takes. †
pub const SKIRT_SIDE_SHARE: f64 = 0.6;
/// Skirt darts: length of those in front, which lie over the flat belly. †
pub const FRONT_SKIRT_DART: f64 = 95.0;
/// Length of those behind, which lie over the seat. †
pub const BACK_SKIRT_DART: f64 = 140.0;
/// A skirt dart ends at this part of the way from waist to hip at the most. †
pub const MOST_OF_HIP_DEPTH: f64 = 0.72;
/// No skirt dart takes more than this. †
pub const MOST_SKIRT_DART: f64 = 35.0;
/// A line that flares at the side as well as at its darts: this much a side for all darts closed. †
pub const SIDE_FLARE: f64 = 60.0;

/// Bounds of the sleeve cap's height over the armhole's length. †
pub const CAP_HEIGHT: [f64; 2] = [0.12, 0.45];
/// Cap ease that hands and steam can shrink in: 1–1 1/2 in and a little, by common practice; more is warned of.
pub const MOST_CAP_EASE: f64 = 40.0;
/// Notches stand on the armhole at this part of its length from the underarm, front and back. †
pub const ARMHOLE_NOTCH: [f64; 2] = [0.38, 0.40];
