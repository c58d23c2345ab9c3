// Edges that are sewn to each other: one lights up under the hand, and its partner across the seam with it.

import { el } from "./dom.js";

/** @typedef {import("./types.js").Partner} Partner */
/** @typedef {import("./sheet.js").Sheet} Sheet */

/** Lights edges on a sheet and says which seam it is. */
export class Partners {
  /** @param {Sheet} sheet */
  constructor(sheet) {
    this.sheet = sheet;
    /** @type {Partner[]} */
    this.all = [];
    this.words = el("p.seam-words", { "aria-hidden": "true" });
    sheet.element.append(this.words);
    sheet.svg.addEventListener("pointerover", (event) => this.#over(event));
    sheet.svg.addEventListener("pointerleave", () => this.light(null));
  }

  /** @param {Partner[]} partners */
  set(partners) {
    this.all = partners;
  }

  /** @param {PointerEvent} event */
  #over(event) {
    const target = event.target instanceof SVGElement ? event.target : null;
    const edge = target?.dataset.edge;
    if (this.sheet.element.classList.contains("dragging")) return;
    this.light(edge ?? null);
  }

  /** Lights an edge and its partners; none with null. @param {string | null} edge */
  light(edge) {
    const found = this.all.filter((partner) => partner.edge === edge);
    const edges = new Set(edge ? [edge, ...found.flatMap((partner) => partner.with)] : []);
    this.sheet.pieces.light(edges);
    this.words.textContent = found.map((partner) => partner.words).join(" · ");
  }

  /** The seams as a list whose lines light the edges, for whoever uses no pointer. */
  list() {
    const seen = new Set();
    const once = this.all.filter(({ seam, edge, with: others }) => {
      const key = [seam, ...[edge, ...others].sort()].join("|");
      return !seen.has(key) && seen.add(key);
    });
    if (once.length === 0) return null;
    return el(
      "details.seams",
      { "data-key": "seams" },
      el("summary", `Seams (${once.length})`),
      el(
        "ul",
        once.map((partner) =>
          el(
            "li",
            { "data-key": `${partner.seam}-${partner.edge}` },
            el(
              "button.line",
              { type: "button", onfocus: () => this.light(partner.edge), onblur: () => this.light(null), onpointerenter: () => this.light(partner.edge), onpointerleave: () => this.light(null) },
              partner.words,
            ),
          ),
        ),
      ),
    );
  }
}
