// A drawing of pieces in SVG: one group a piece, kept as long as the piece is the same. Knows marks, not what they mean for a body.

import { svg } from "./dom.js";

/** @typedef {import("./types.js").Drawing} Drawing */
/** @typedef {import("./types.js").DrawnPiece} DrawnPiece */
/** @typedef {import("./types.js").Shape} Shape */

/** Kinds that are drawn under all others, so that tints never cover lines. */
const UNDER = new Set(["ground", "facing", "lining", "interfacing", "pocket"]);

/** Smallest height of words on the screen, px; smaller ones are left out until the drawing is nearer. */
const LEGIBLE = 12.5;

/** @param {Shape} shape */
function line(shape) {
  return svg("path", {
    d: shape.d,
    class: `line ${shape.kind}${shape.layer ? ` layer-${shape.layer}` : ""}`,
    "data-edge": shape.edge,
    "data-id": shape.id,
    "vector-effect": "non-scaling-stroke",
  });
}

/**
 * A wide invisible line to be met by the pointer.
 * @param {Shape} shape
 */
function reach(shape) {
  return svg("path", {
    d: shape.d,
    class: "reach",
    "data-edge": shape.edge,
    "vector-effect": "non-scaling-stroke",
  });
}

/** @param {Shape} shape */
function words(shape) {
  const { x, y, size, anchor = "start", turn = 0, words: text } = /** @type {NonNullable<Shape["text"]>} */ (shape.text);
  return svg(
    "text",
    {
      x,
      y,
      class: `word ${shape.kind}`,
      "font-size": size,
      "data-size": size,
      "data-id": shape.id,
      "text-anchor": anchor,
      transform: turn ? `rotate(${turn} ${x} ${y})` : null,
    },
    text,
  );
}

/**
 * The group of one piece.
 * @param {DrawnPiece} piece
 */
function group(piece) {
  const lines = piece.shapes.filter((shape) => shape.d);
  const under = lines.filter((shape) => UNDER.has(shape.kind));
  const over = lines.filter((shape) => !UNDER.has(shape.kind));
  return svg(
    "g",
    { class: "piece", "data-piece": piece.name, "data-hash": piece.hash },
    under.map(line),
    over.map(line),
    piece.shapes.filter((shape) => shape.text).map(words),
    lines.filter((shape) => shape.edge).map(reach),
  );
}

/** The pieces of a drawing on the page, brought up to date piece by piece. */
export class Pieces {
  /** @param {SVGGElement} world the group that is scaled to millimetres */
  constructor(world) {
    this.world = world;
    /** @type {Map<string, {piece: DrawnPiece, group: SVGGElement}>} */
    this.all = new Map();
    /** Scale at which each group's words were last sized. @type {WeakMap<SVGGElement, number>} */
    this.sized = new WeakMap();
  }

  /** Which state of each piece is on the page, to ask only for what is newer. @returns {Record<string, string>} */
  known() {
    return Object.fromEntries([...this.all].map(([name, { piece }]) => [name, piece.hash]));
  }

  /**
   * Draws; pieces that are the same keep their group.
   * @param {Drawing} drawing
   * @returns {number} how many pieces were drawn anew
   */
  draw(drawing) {
    let anew = 0;
    const wanted = new Set(drawing.pieces.map((piece) => piece.name));
    for (const [name, { group: old }] of this.all) {
      if (!wanted.has(name)) {
        old.remove();
        this.all.delete(name);
      }
    }
    for (const piece of drawing.pieces) {
      anew += this.#put(piece);
    }
    return anew;
  }

  /** @param {DrawnPiece} piece */
  #put(piece) {
    const old = this.all.get(piece.name);
    const kept = old && (piece.same || old.piece.hash === piece.hash);
    const merged = kept ? { ...old.piece, at: piece.at } : piece;
    if (!merged.shapes) return 0;
    const drawn = kept ? old.group : group(merged);
    if (!kept) {
      if (old) old.group.replaceWith(drawn);
      else this.world.append(drawn);
    }
    drawn.setAttribute("transform", `translate(${merged.at[0]} ${merged.at[1]})`);
    this.all.set(merged.name, { piece: merged, group: drawn });
    return kept ? 0 : 1;
  }

  /** Forgets everything. */
  clear() {
    for (const { group: old } of this.all.values()) old.remove();
    this.all.clear();
  }

  /**
   * Shows words that can be read at this scale and hides the others.
   * @param {number} scale px per mm
   */
  legible(scale) {
    for (const { group: drawn } of this.all.values()) {
      if (this.sized.get(drawn) === scale) continue;
      this.sized.set(drawn, scale);
      for (const text of drawn.querySelectorAll("text")) {
        const size = Number(text.dataset.size);
        // CF and CB, and the numbers of tapes, are read from any distance.
        const always = text.classList.contains("centre-line") || text.classList.contains("callout");
        text.toggleAttribute("hidden", size * scale < LEGIBLE && !always);
        if (always) text.setAttribute("font-size", String(Math.max(size, 13 / scale)));
      }
    }
  }

  /**
   * Lights edges (`piece/edge`) up, the one under the hand and its partners alike.
   * @param {Set<string>} edges
   */
  light(edges) {
    for (const { group: drawn } of this.all.values()) {
      for (const path of drawn.querySelectorAll(".line[data-edge]")) {
        path.classList.toggle("lit", edges.has(/** @type {SVGElement} */ (path).dataset.edge ?? ""));
      }
    }
  }

  /** Whether a piece's own words can be read at this scale. @param {string} name @param {number} scale */
  named(name, scale) {
    const shapes = this.all.get(name)?.piece.shapes ?? [];
    return shapes.some((shape) => shape.kind === "label" && shape.text && shape.text.size * scale >= LEGIBLE);
  }

  /** Where a piece has room for words: at its own first ones, or in its middle. @param {string} name @returns {[number, number] | null} */
  wordsAt(name) {
    const found = this.all.get(name)?.piece;
    if (!found) return null;
    const { at, box } = found;
    const own = found.shapes.find((shape) => shape.kind === "label" && shape.text?.anchor === "middle" && !shape.text.turn)?.text;
    return own ? [at[0] + own.x, at[1] + own.y] : [at[0] + box[0] + box[2] / 2, at[1] + box[1] + box[3] / 2];
  }
}
