// The parts: every piece of every layer, what to cut and buy, and seams walked side by side.

import { get } from "../ask.js";
import { el, show } from "../dom.js";
import { Margin } from "../margin.js";
import { Sheet } from "../sheet.js";
import { spread } from "../spread.js";
import { Walk } from "../walk.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @returns {import("../desk.js").OpenChapter}
 */
export function openParts(desk, place) {
  return new Parts(desk, place);
}

class Parts {
  /**
   * @param {Desk} desk
   * @param {HTMLElement} place
   */
  constructor(desk, place) {
    this.desk = desk;
    this.closed = false;
    /** Layers that are put away. @type {Set<string>} */
    this.away = new Set();
    this.over = false;
    this.walked = "";
    /** @type {any} */
    this.view = null;
    this.sheet = new Sheet({ label: "All pieces of all layers", describedby: "parts-in-words" });
    this.margin = new Margin(this.sheet, (finding, mend) => this.#mend(finding, mend));
    this.walk = new Walk(this.sheet);
    this.words = spread(place, "Parts", { sheet: this.sheet.element, margin: this.margin.element, foot: this.walk.element }).words;
  }

  async load() {
    this.#take(await get("parts", { name: this.desk.name }));
  }

  close() {
    this.closed = true;
    this.walk.stop();
  }

  /** @param {any} view */
  #take(view) {
    if (this.closed) return;
    this.view = view;
    this.desk.shows(view);
    this.#draw();
    this.#showWords();
  }

  #draw() {
    const { drawing, over, layers = [] } = this.view;
    this.sheet.pieces.clear();
    const shown = this.over && over ? over : drawing;
    const hidden = new Set(layers.filter((/** @type {any} */ layer) => this.away.has(layer.id)).flatMap((/** @type {any} */ layer) => layer.pieces.map(nameOf)));
    const pieces = this.over ? shown.pieces.map((/** @type {any} */ piece) => ({ ...piece, shapes: piece.shapes.filter((/** @type {any} */ shape) => !this.away.has(shape.layer ?? "")) })) : shown.pieces.filter((/** @type {any} */ piece) => !hidden.has(piece.name));
    this.sheet.whole = true;
    this.sheet.draw({ box: this.over ? shown.box : boxOf(pieces, shown.box), pieces });
    const there = new Set(pieces.map((/** @type {any} */ piece) => piece.name));
    const findings = (this.view.findings ?? []).map((/** @type {any} */ finding) => ({
      ...finding,
      places: finding.places.map((/** @type {any} */ one) => (this.over || (one.piece && !there.has(one.piece)) ? { ...one, at: null } : one)),
    }));
    this.margin.set(findings);
  }

  #showWords() {
    const view = this.view;
    show(
      this.words,
      el("p.unseen", { id: "parts-in-words" }, (view.drawing?.pieces ?? []).map((/** @type {any} */ piece) => `${piece.words} `)),
      el(
        "fieldset.layers",
        el("legend", "Layers"),
        (view.layers ?? []).map((/** @type {any} */ layer) => this.#layer(layer)),
        view.over && this.#overChoice(),
      ),
      sections(view.cutting_list, "To cut"),
      sections(view.things_to_buy, "To buy"),
      el("h2", "Seams, walked"),
      el("p.quiet", "Both sides of a seam, rolled along each other as they are sewn. Press one and walk it."),
      el("ul.walks", (view.walks ?? []).map((/** @type {any} */ walk) => this.#walkLine(walk))),
    );
  }

  /** @param {any} layer */
  #layer(layer) {
    const id = `layer-${layer.id}`;
    const turn = (/** @type {any} */ event) => {
      if (event.target.checked) this.away.delete(layer.id);
      else this.away.add(layer.id);
      this.#draw();
    };
    return el("div.check", { "data-key": layer.id }, el("input", { id, type: "checkbox", checked: !this.away.has(layer.id), onchange: turn }), el("label", { for: id }, el(`span.swatch.${layer.id}`, { "aria-hidden": "true" }), layer.title, el("span.count", ` ${layer.pieces.length}`)));
  }

  #overChoice() {
    const turn = (/** @type {any} */ event) => {
      this.over = event.target.checked;
      this.#draw();
    };
    return el("div.check.over", { "data-key": "over" }, el("input", { id: "layers-over", type: "checkbox", checked: this.over, onchange: turn }), el("label", { for: "layers-over" }, "laid over each other, as they are sewn"));
  }

  /** @param {any} walk */
  #walkLine(walk) {
    const id = `${walk.seam}-${walk.a?.piece}-${walk.b?.piece}`;
    return el(
      "li",
      { "data-key": id },
      el(
        "button.line",
        {
          type: "button",
          "aria-pressed": this.walked === id ? "true" : "false",
          onclick: () => {
            this.walked = this.walked === id ? "" : id;
            this.over = false;
            this.#draw();
            if (this.walked) this.#near([walk.a?.piece, walk.b?.piece]);
            this.walk.show(this.walked ? walk : null);
            this.#showWords();
          },
        },
        el("span.seam", walk.title ?? walk.seam),
        el("span.figures-of-seam", `${walk.a?.length_shown ?? ""} and ${walk.b?.length_shown ?? ""}`, walk.ease_shown && `, ${walk.ease_shown}`),
        el(`span.agrees${walk.agrees ? "" : ".not"}`, walk.agrees ? "agrees" : "differs"),
      ),
    );
  }

  /** Looks at some pieces from as near as shows them whole. @param {string[]} names */
  #near(names) {
    const pieces = this.view.drawing.pieces.filter((/** @type {any} */ piece) => names.includes(piece.name));
    this.sheet.box = boxOf(pieces, this.view.drawing.box);
    this.sheet.fit();
  }

  /** @param {any} finding @param {any} mend */
  async #mend(finding, mend) {
    const done = await this.desk.keep("garment/mend", () => ({ name: this.desk.name, finding: finding.id, code: finding.code, number: mend.number }));
    if (done) await this.load();
  }
}

/** @param {any} piece */
function nameOf(piece) {
  return typeof piece === "string" ? piece : piece.name;
}

/**
 * A list in sections, each with its title.
 * @param {{title: string, lines: string[]}[] | undefined} list
 * @param {string} title
 */
function sections(list, title) {
  if (!list?.length) return null;
  return el(
    "section.list",
    { "data-key": title },
    el("h2", title),
    list.map((one) => [one.title !== title && el("h3", one.title), el("ul.plain-list", one.lines.map((line) => el("li", line)))]),
  );
}

/**
 * The room that some pieces take.
 * @param {import("../types.js").DrawnPiece[]} pieces
 * @param {[number, number, number, number]} otherwise
 * @returns {[number, number, number, number]}
 */
function boxOf(pieces, otherwise) {
  if (pieces.length === 0) return otherwise;
  const left = Math.min(...pieces.map((piece) => piece.at[0] + piece.box[0]));
  const top = Math.min(...pieces.map((piece) => piece.at[1] + piece.box[1]));
  const right = Math.max(...pieces.map((piece) => piece.at[0] + piece.box[0] + piece.box[2]));
  const bottom = Math.max(...pieces.map((piece) => piece.at[1] + piece.box[1] + piece.box[3]));
  return [left, top, right - left, bottom - top];
}
