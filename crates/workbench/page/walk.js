// A seam walked: two edges are rolled along each other, and a mark on each side tells how far the hand has come.

import { el, show, svg } from "./dom.js";

/** @typedef {import("./sheet.js").Sheet} Sheet */

/** Steps of the slider along a seam. */
const STEPS = 100;

/** The walking of one seam on a sheet, with a slider to walk by hand. */
export class Walk {
  /** @param {Sheet} sheet */
  constructor(sheet) {
    this.sheet = sheet;
    /** @type {any} */
    this.walk = null;
    this.along = 0;
    this.element = el("div.walk");
    this.layer = svg("g", { class: "walking", "aria-hidden": "true" });
    sheet.front.append(this.layer);
    sheet.watch(() => this.#draw());
  }

  /** @param {any} walk */
  show(walk) {
    this.walk = walk;
    this.along = 0;
    this.#words();
    this.#draw();
  }

  /** Puts the walk away. */
  stop() {
    this.walk = null;
    this.layer.replaceChildren();
  }

  #words() {
    const walk = this.walk;
    if (!walk) {
      show(this.element);
      return;
    }
    show(
      this.element,
      el("label", { for: "walk-along" }, `Walk along: ${walk.title ?? walk.seam}`),
      el("input", {
        id: "walk-along",
        type: "range",
        min: 0,
        max: STEPS,
        value: Math.round(this.along * STEPS),
        "aria-valuetext": this.#where(),
        oninput: (/** @type {any} */ event) => {
          this.along = Number(event.target.value) / STEPS;
          event.target.setAttribute("aria-valuetext", this.#where());
          this.#draw();
          this.#says();
        },
      }),
      el("p.where", { id: "walk-where" }, this.#where()),
      this.#strip(),
    );
  }

  #says() {
    const place = document.getElementById("walk-where");
    if (place) place.textContent = this.#where();
    const mark = this.element.querySelector(".here");
    mark?.setAttribute("x1", String(10 + this.along * 580));
    mark?.setAttribute("x2", String(10 + this.along * 580));
  }

  #where() {
    const { a, b } = this.walk;
    return `${Math.round(this.along * 100)} % of ${a.title ?? a.piece} (${a.length_shown}) meets ${Math.round(this.along * 100)} % of ${b.title ?? b.piece} (${b.length_shown})`;
  }

  /** Both sides laid straight above each other, with their notches. */
  #strip() {
    const { a, b, notches = [] } = this.walk;
    const x = (/** @type {number} */ part) => 10 + part * 580;
    const side = (/** @type {string} */ which, /** @type {number} */ from, /** @type {number} */ to) =>
      notches.filter((/** @type {any} */ notch) => typeof notch[which] === "number").map((/** @type {any} */ notch) => svg("path", { class: "notch", d: `M${x(notch[which])} ${from} V${to}` }));
    return svg(
      "svg",
      { class: "strip", viewBox: "0 0 600 64", role: "img", "aria-label": `Both sides of the seam beside each other, with ${notches.length} notches` },
      svg("path", { class: "line seam", d: "M10 26 H590" }),
      svg("path", { class: "line seam", d: "M10 40 H590" }),
      side("a", 16, 26),
      side("b", 40, 50),
      svg("text", { x: 10, y: 12 }, a.title ?? a.piece),
      svg("text", { x: 10, y: 62 }, b.title ?? b.piece),
      svg("line", { class: "here", x1: x(this.along), x2: x(this.along), y1: 18, y2: 48 }),
    );
  }

  #draw() {
    this.layer.replaceChildren();
    if (!this.walk) return;
    for (const path of [this.walk.path_a, this.walk.path_b]) this.#side(path ?? []);
  }

  /** @param {[number, number][]} path */
  #side(path) {
    if (path.length < 2) return;
    const points = path.map((at) => this.sheet.toScreen(at));
    const reached = Math.max(1, Math.round(this.along * (points.length - 1)));
    const d = (/** @type {[number, number][]} */ some) => some.map(([x, y], index) => `${index ? "L" : "M"}${x} ${y}`).join(" ");
    const [x, y] = points[this.along === 0 ? 0 : reached];
    this.layer.append(
      svg("path", { class: "to-walk", d: d(points) }),
      svg("path", { class: "walked", d: d(points.slice(0, reached + 1)) }),
      svg("circle", { class: "walker", cx: x, cy: y, r: 6 }),
    );
  }
}
