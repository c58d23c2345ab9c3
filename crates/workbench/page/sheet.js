// The sheet on which a drawing lies: how near one looks at it, where, and the faint dots behind it. Scroll with Ctrl, pinch, drag the
// paper, or use + − 0 and the arrow keys.

import { el, svg } from "./dom.js";
import { Pieces } from "./drawing.js";

/** @typedef {import("./types.js").Drawing} Drawing */

/** How wide a letter of a title is at most, px. */
const LETTER = 7.5;
/** How far a title stays off the sides of its piece where there is room, so that it clears their seam lines, px. */
const INSET = 10;
/** Room round the drawing at first, px. */
const ROOM = 28;
/** Room for the buttons below it, px. */
const FOOT = 32;
/** Nearest and farthest look, px per mm. */
const NEAREST = 12;
/** Dots never stand closer than this, px. */
const DOTS = 9;
/** Millimetres between dots, from fine to coarse. */
const STEPS = [10, 50, 100, 500];
/** Millimetres on the screen, as every browser counts them: 96 px are an inch. */
const PX_PER_MM = 96 / 25.4;

let count = 0;

/** A sheet with a drawing on it. */
export class Sheet {
  /**
   * @param {{label: string, describedby?: string, titles?: boolean}} how
   */
  constructor({ label, describedby, titles = true }) {
    count += 1;
    this.titles = titles;
    this.scale = 1;
    this.origin = [0, 0];
    this.box = [0, 0, 1000, 700];
    this.whole = true;
    /** Size on the screen, px; measured when it changes, not while something is dragged. */
    this.size = { width: 0, height: 0 };
    this.footed = true;
    this.titled = "";
    /** @type {(() => void)[]} */
    this.watchers = [];
    const id = `dots-${count}`;
    this.dot = svg("circle", { r: 0.6, class: "dot" });
    this.pattern = svg("pattern", { id, patternUnits: "userSpaceOnUse", width: 10, height: 10 }, this.dot);
    const ground = svg("rect", { width: "100%", height: "100%", fill: `url(#${id})`, class: "dots" });
    /** @type {SVGGElement} */
    this.world = svg("g", { class: "world", "aria-hidden": "true" });
    /** @type {SVGGElement} */
    this.front = svg("g", { class: "front" });
    this.titleLayer = svg("g", { class: "titles", "aria-hidden": "true" });
    this.front.append(this.titleLayer);
    const named = { role: "group", tabindex: 0, "aria-label": label, "aria-describedby": describedby };
    /** @type {SVGSVGElement} */
    this.svg = svg("svg", { class: "drawing", ...named }, svg("defs", {}, this.pattern), ground, this.world, this.front);
    this.scaleWords = el("span.scale");
    /** @type {HTMLElement} */
    this.foot = this.#buttons();
    /** @type {HTMLElement} */
    this.element = el("div.sheet", { "data-keep": true }, this.svg, this.foot);
    this.pieces = new Pieces(this.world);
    this.#hands();
    new ResizeObserver(() => this.#resized()).observe(this.element);
  }

  /** What brings the drawing nearer and back. */
  #buttons() {
    const nearer = el("button.plain", { type: "button", "aria-label": "Look nearer", onclick: () => this.zoom(1.4) }, "+");
    const farther = el("button.plain", { type: "button", "aria-label": "Look from farther away", onclick: () => this.zoom(1 / 1.4) }, "−");
    const all = el("button.plain", { type: "button", onclick: () => this.fit() }, "whole");
    return el("div.look", this.scaleWords, farther, nearer, all);
  }

  /** Puts a drawing on the sheet; returns how many pieces were drawn anew. @param {Drawing} drawing */
  draw(drawing) {
    const anew = this.pieces.draw(drawing);
    this.box = drawing.box;
    if (this.whole) this.fit();
    else this.look();
    return anew;
  }

  /** Calls back whenever the look or the drawing changes. @param {() => void} watcher */
  watch(watcher) {
    this.watchers.push(watcher);
  }

  #measure() {
    const { width, height } = this.svg.getBoundingClientRect();
    this.size = { width, height };
    this.footed = this.foot.checkVisibility();
  }

  /** Shows the whole drawing. */
  fit() {
    if (!this.size.width) this.#measure();
    const { width, height } = this.size;
    const [x, y, w, h] = this.box;
    if (!width || !height || !w || !h) return;
    const room = Math.min(ROOM, width * 0.06);
    // The buttons at the foot lie over nothing.
    const free = height - (this.footed ? FOOT : 0);
    this.scale = Math.min((width - 2 * room) / w, (free - 2 * room) / h);
    this.origin = [(width - w * this.scale) / 2 - x * this.scale, (free - h * this.scale) / 2 - y * this.scale];
    this.whole = true;
    this.look();
  }

  /**
   * Looks nearer or from farther away about a point of the screen.
   * @param {number} times
   * @param {[number, number]} [about] px from the sheet's corner
   */
  zoom(times, about) {
    const { width, height } = this.size;
    const [ax, ay] = about ?? [width / 2, height / 2];
    const scale = Math.min(NEAREST, Math.max(this.#farthest(), this.scale * times));
    const by = scale / this.scale;
    this.origin = [ax - (ax - this.origin[0]) * by, ay - (ay - this.origin[1]) * by];
    this.scale = scale;
    this.whole = false;
    this.look();
  }

  #farthest() {
    return this.size.width / 4 / Math.max(this.box[2], 1);
  }

  /** Moves the paper. @param {number} dx px @param {number} dy px */
  pan(dx, dy) {
    this.origin = [this.origin[0] + dx, this.origin[1] + dy];
    this.whole = false;
    this.look();
  }

  /** Applies the look. */
  look() {
    const { scale, origin } = this;
    this.world.setAttribute("transform", `matrix(${scale} 0 0 ${scale} ${origin[0]} ${origin[1]})`);
    const step = STEPS.find((mm) => mm * scale >= DOTS) ?? 1000;
    const apart = step * scale;
    this.pattern.setAttribute("width", apart);
    this.pattern.setAttribute("height", apart);
    this.pattern.setAttribute("patternTransform", `translate(${origin[0]} ${origin[1]})`);
    this.dot.setAttribute("cx", apart / 2);
    this.dot.setAttribute("cy", apart / 2);
    const ratio = PX_PER_MM / scale;
    this.scaleWords.textContent = `1 : ${ratio < 10 ? ratio.toFixed(1) : Math.round(ratio)} · dots ${step} mm apart`;
    this.svg.classList.toggle("near", !this.whole);
    this.pieces.legible(scale);
    this.#name();
    for (const watcher of this.watchers) watcher();
  }

  /** Titles of pieces at a size that can be read from any distance, as far as a piece has room for them. */
  #name() {
    if (!this.titles) return;
    const titles = [...this.pieces.all.values()].flatMap(({ piece }) => {
      const wide = piece.box[2] * this.scale;
      const place = this.pieces.wordsAt(piece.name);
      const long = piece.title.length * LETTER;
      const room = place && !this.pieces.named(piece.name, this.scale) && long <= wide - 8;
      if (!room) return [];
      // Clear of lines at the drawing's own size, and between the sides of the piece at this one.
      const [x, y] = this.toScreen(place);
      const left = this.toScreen([piece.at[0] + piece.box[0], 0])[0];
      const aside = long / 2 + Math.min(INSET, (wide - long) / 2);
      return [{ at: [Math.max(left + aside, Math.min(left + wide - aside, x)), y], words: piece.title }];
    });
    const now = JSON.stringify(titles);
    if (now === this.titled) return;
    this.titled = now;
    this.titleLayer.replaceChildren(...titles.map(({ at: [x, y], words }) => svg("text", { x, y, class: "title" }, words)));
  }

  /** @param {[number, number]} at mm in the drawing @returns {[number, number]} px from the sheet's corner */
  toScreen([x, y]) {
    return [x * this.scale + this.origin[0], y * this.scale + this.origin[1]];
  }

  /** @param {{clientX: number, clientY: number}} event @returns {[number, number]} mm in the drawing */
  toDrawing({ clientX, clientY }) {
    const { left, top } = this.svg.getBoundingClientRect();
    return [(clientX - left - this.origin[0]) / this.scale, (clientY - top - this.origin[1]) / this.scale];
  }

  #resized() {
    this.#measure();
    if (this.whole) this.fit();
    else this.look();
  }

  #hands() {
    /** @type {Map<number, [number, number]>} */
    const fingers = new Map();
    this.svg.onpointerdown = (event) => {
      if (event.button !== 0) return;
      fingers.set(event.pointerId, [event.clientX, event.clientY]);
      if (event.pointerType === "mouse" || !this.whole || fingers.size > 1) this.svg.setPointerCapture(event.pointerId);
    };
    this.svg.onpointermove = (event) => {
      if (fingers.has(event.pointerId)) this.#moved(fingers, event);
    };
    const up = (/** @type {PointerEvent} */ event) => fingers.delete(event.pointerId);
    this.svg.onpointerup = up;
    this.svg.onpointercancel = up;
    this.svg.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    this.svg.addEventListener("keydown", (event) => this.#key(event));
  }

  /**
   * @param {Map<number, [number, number]>} fingers
   * @param {PointerEvent} event
   */
  #moved(fingers, event) {
    const before = /** @type {[number, number]} */ (fingers.get(event.pointerId));
    const now = /** @type {[number, number]} */ ([event.clientX, event.clientY]);
    const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1];
    fingers.set(event.pointerId, now);
    if (!other) {
      // One finger on the whole drawing scrolls the page; a mouse or a nearer look moves the paper.
      if (event.pointerType === "mouse" || !this.whole) this.pan(now[0] - before[0], now[1] - before[1]);
      return;
    }
    const { left, top } = this.svg.getBoundingClientRect();
    const apart = (/** @type {[number, number]} */ a) => Math.hypot(a[0] - other[0], a[1] - other[1]);
    const about = /** @type {[number, number]} */ ([(now[0] + other[0]) / 2 - left, (now[1] + other[1]) / 2 - top]);
    this.zoom(apart(now) / Math.max(apart(before), 1), about);
    this.pan((now[0] - before[0]) / 2, (now[1] - before[1]) / 2);
  }

  /** @param {WheelEvent} event */
  #wheel(event) {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    const { left, top } = this.svg.getBoundingClientRect();
    this.zoom(Math.exp(-event.deltaY / 300), [event.clientX - left, event.clientY - top]);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.target !== this.svg || event.ctrlKey || event.metaKey || event.altKey) return;
    const moves = { ArrowLeft: [40, 0], ArrowRight: [-40, 0], ArrowUp: [0, 40], ArrowDown: [0, -40] };
    const move = /** @type {Record<string, number[]>} */ (moves)[event.key];
    if (move && !this.whole) this.pan(move[0], move[1]);
    else if (event.key === "+" || event.key === "=") this.zoom(1.4);
    else if (event.key === "-") this.zoom(1 / 1.4);
    else if (event.key === "0") this.fit();
    else return;
    event.preventDefault();
  }
}
