// The figures of the measuring page: which line, leader and number belongs to which measure, so that a group can be seen on its own.

/** @typedef {import("../types.js").Drawing} Drawing */
/** @typedef {import("../types.js").Shape} Shape */

/**
 * Names every shape of a figure by its measure: the ticks after a tape, and the leader, dot and ring before a number.
 * @param {Drawing} drawing
 * @param {Map<string, string>} keys measures by their number
 * @returns {Drawing}
 */
export function figureOf(drawing, keys) {
  return { ...drawing, pieces: drawing.pieces.map((piece) => (piece.shapes ? { ...piece, shapes: named(piece.shapes, keys) } : piece)) };
}

/**
 * Boxes of one size round the middles of all, so that three figures of one body are drawn equally large.
 * @param {[number, number, number, number][]} boxes
 * @returns {[number, number, number, number][]}
 */
export function sameSize(boxes) {
  const width = Math.max(...boxes.map((box) => box[2]));
  const height = Math.max(...boxes.map((box) => box[3]));
  return boxes.map(([x, y, w, h]) => [x + (w - width) / 2, y + (h - height) / 2, width, height]);
}

/**
 * @param {Shape[]} shapes
 * @param {Map<string, string>} keys
 */
function named(shapes, keys) {
  const known = new Set(keys.values());
  let tape = "";
  const all = shapes.map((shape) => {
    if (known.has(shape.id)) tape = shape.id;
    return shape.kind === "measure" ? { ...shape, id: known.has(shape.id) ? shape.id : tape } : { ...shape };
  });
  all.forEach((shape, index) => {
    const key = shape.text && keys.get(shape.text.words);
    if (!key) return;
    shape.id = key;
    shape.kind = "callout";
    all.slice(Math.max(0, index - 3), index).forEach((before, place) => {
      if (before.kind !== "mark") return;
      before.id = key;
      before.kind = place === 2 ? "ring" : "callout";
    });
  });
  return all;
}
