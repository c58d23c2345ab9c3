//! Figures of what sewing takes. Every number that comes from practice and not from the garment stands here, with its source;
//! † is common practice without a source.

/// Width of a bias strip, mm: a seam of 10 mm, 15 mm to be seen inside, 10 mm turned under. †
pub const STRIP_WIDTH: f64 = 35.0;
/// What a strip is longer at each end, to be joined or turned in, mm. †
pub const STRIP_END: f64 = 20.0;
/// Strips are cut to whole so many mm. †
pub const STRIP_STEP: f64 = 5.0;

/// Length of a machine stitch, mm: 10 to the inch. †
pub const STITCH: f64 = 2.5;
/// Thread of a lockstitch (ISO 4915, type 301) over its seam, at least: 220 cm of seam take 550 cm (three published studies of
/// thread consumption agree).
pub const LOCKSTITCH_LEAST: f64 = 2.5;
/// Thread of a zigzag lockstitch (ISO 4915, type 304) over its seam: 7, tables of the thread trade, from memory.
pub const ZIGZAG: f64 = 7.0;
/// Thread of hand stitches over what they sew: once along it, and half as much through the cloth. †
pub const BY_HAND: f64 = 1.5;
/// Hand stitches from this length on, mm, baste: they come out again, and their thread is not counted. †
pub const BASTING: f64 = 6.0;
/// Waste, over all thread that stays in the cloth: 15 % (the same studies).
pub const WASTE: f64 = 0.15;
/// Thread of a usual spool for home machines, mm: 100 m. †
pub const SPOOL: f64 = 100_000.0;

/// Thread by which one button is sewn on, mm. †
pub const BUTTON: f64 = 500.0;
/// Thread of one buttonhole over its length: dense zigzag along both sides and two bars. †
pub const BUTTONHOLE: f64 = 40.0;
/// Thread by which one hook and its eye are sewn on, mm. †
pub const HOOK: f64 = 500.0;
/// Rows of stitches by which an edge is gathered. †
pub const GATHERING_ROWS: f64 = 2.0;
/// Rows of stitches of a narrow hem that is turned twice. †
pub const NARROW_HEM_ROWS: f64 = 2.0;

/// Thread of a lockstitch over its seam: along it on both faces, and through the cloth twice a stitch. The published model
/// 2 + 2·thickness·stitches per length, and never less than [`LOCKSTITCH_LEAST`].
pub fn lockstitch(thickness: f64) -> f64 {
    (2.0 + 2.0 * thickness / STITCH).max(LOCKSTITCH_LEAST)
}
