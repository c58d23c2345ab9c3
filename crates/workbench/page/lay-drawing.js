// The drawing of a lay: cloth with selvedges and fold, pieces that can be taken and put elsewhere by pointer or by keys.

import { svg } from "./dom.js";
import { Sheet } from "./sheet.js";

/** Arrow keys move a piece by this much, mm; with Shift by five times as much. */
const STEP = 10;
/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** A sheet for lays. */
export class LaySheet {
  /** @param {(piece: any, at: [number, number]) => void} put called when a piece was put somewhere */
  constructor(put) {
    this.put = put;
    this.sheet = new Sheet({ label: "The lay on the cloth", titles: false });
    this.sheet.element.classList.add("lay");
    this.sheet.world.removeAttribute("aria-hidden");
    /** @type {any} */
    this.drawing = null;
    /** @type {{piece: any, group: SVGGElement, grip: [number, number], at: [number, number]} | null} */
    this.held = null;
    this.sheet.watch(() => this.#name());
  }

  /** @param {any} drawing */
  draw(drawing) {
    if (!drawing || this.held) return;
    const anew = this.drawing === null || String(this.drawing.box) !== String(drawing.box);
    const focused = /** @type {HTMLElement | null} */ (document.activeElement)?.dataset?.lies;
    this.drawing = drawing;
    this.sheet.world.replaceChildren(...cloth(drawing), ...ruler(drawing), svg("g", { role: "group", "aria-label": "Pieces on the cloth; arrow keys move one, Enter puts it down" }, drawing.pieces.map((/** @type {any} */ piece) => this.#piece(piece))));
    this.sheet.box = drawing.box;
    if (anew) this.sheet.whole = true;
    if (this.sheet.whole) this.sheet.fit();
    else this.sheet.look();
    if (focused) /** @type {SVGElement | null} */ (this.sheet.world.querySelector(`[data-lies="${CSS.escape(focused)}"]`))?.focus();
  }

  /** @param {any} piece */
  #piece(piece) {
    const group = svg(
      "g",
      {
        class: `lies${piece.held ? " held-down" : ""}`,
        tabindex: 0,
        role: "button",
        "aria-label": `${piece.title}${piece.copy > 1 ? `, copy ${piece.copy}` : ""}${piece.held ? ", held by you" : ""}`,
        "aria-roledescription": "piece on the cloth",
        "data-lies": String(piece.id),
        transform: placed(piece.at),
      },
      svg("path", { d: piece.d, class: "line cutting", "vector-effect": "non-scaling-stroke" }),
      piece.grain_d && svg("path", { d: piece.grain_d, class: "line grain", "vector-effect": "non-scaling-stroke" }),
    );
    group.onpointerdown = (/** @type {PointerEvent} */ event) => this.#take(piece, group, event);
    group.onpointermove = (/** @type {PointerEvent} */ event) => this.#move(event);
    group.onpointerup = () => this.#down();
    group.onpointercancel = () => this.#down();
    group.onkeydown = (/** @type {KeyboardEvent} */ event) => this.#key(piece, group, event);
    group.onblur = () => this.#down();
    return group;
  }

  /** @param {any} piece @param {SVGGElement} group @param {PointerEvent} event */
  #take(piece, group, event) {
    if (event.button !== 0) return;
    event.stopPropagation();
    group.focus();
    group.setPointerCapture(event.pointerId);
    this.held = { piece, group, grip: this.sheet.toDrawing(event), at: piece.at };
    group.classList.add("held");
    group.parentNode?.append(group);
  }

  /** @param {PointerEvent} event */
  #move(event) {
    if (!this.held || !(event.buttons & 1)) return;
    const { piece, group, grip } = this.held;
    const [x, y] = this.sheet.toDrawing(event);
    this.held.at = [piece.at[0] + x - grip[0], piece.at[1] + y - grip[1]];
    group.setAttribute("transform", placed(this.held.at));
    this.#name();
  }

  #down() {
    const held = this.held;
    if (!held) return;
    this.held = null;
    held.group.classList.remove("held");
    const moved = Math.hypot(held.at[0] - held.piece.at[0], held.at[1] - held.piece.at[1]);
    if (moved > 1) this.put(held.piece, held.at);
  }

  /** @param {any} piece @param {SVGGElement} group @param {KeyboardEvent} event */
  #key(piece, group, event) {
    const arrow = ARROWS[event.key];
    if (arrow) {
      const by = event.shiftKey ? 5 * STEP : STEP;
      const from = this.held?.at ?? piece.at;
      this.held = { piece, group, grip: piece.at, at: [from[0] + arrow[0] * by, from[1] + arrow[1] * by] };
      group.classList.add("held");
      group.setAttribute("transform", placed(this.held.at));
      this.#name();
    } else if (event.key === "Enter" || event.key === " ") this.#down();
    else if (event.key === "Escape" && this.held) {
      this.held.at = piece.at;
      group.setAttribute("transform", placed(piece.at));
      this.#down();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** Names on the pieces at a size that can be read, where there is room. */
  #name() {
    this.sheet.titleLayer.replaceChildren();
    for (const mark of this.sheet.world.querySelectorAll(".ruler")) mark.setAttribute("font-size", String(13 / this.sheet.scale));
    for (const group of this.sheet.world.querySelectorAll(".lies")) {
      const piece = this.drawing?.pieces.find((/** @type {any} */ one) => String(one.id) === /** @type {SVGElement} */ (group).dataset.lies);
      if (!piece) continue;
      const box = /** @type {SVGGElement} */ (group).getBoundingClientRect();
      const corner = this.sheet.svg.getBoundingClientRect();
      const words = piece.label ?? piece.title;
      const upright = box.height > box.width * 1.2 && words.length * 7.5 > box.width - 8;
      const [along, across] = upright ? [box.height, box.width] : [box.width, box.height];
      if (words.length * 7.5 > along - 8 || across < 18) continue;
      const x = box.left + box.width / 2 - corner.left;
      const y = box.top + box.height / 2 - corner.top;
      this.sheet.titleLayer.append(svg("text", { x, y, class: "title", transform: upright ? `rotate(-90 ${x} ${y})` : null }, words));
    }
  }
}

/** Outlines come as they lie, about their place. @param {[number, number]} at */
function placed(at) {
  return `translate(${at[0]} ${at[1]})`;
}

/** @param {any} drawing */
function cloth({ cloth: ground, box }) {
  const d = ground?.d ?? `M${box[0]} ${box[1]} h${box[2]} v${box[3]} h${-box[2]} Z`;
  const lines = Object.entries({ stripes: ground?.stripes, selvedge: ground?.selvedges, fold: ground?.fold, flaw: ground?.flaws });
  const line = (/** @type {string} */ kind, /** @type {string} */ path) => svg("path", { d: path, class: `line ${kind}`, "vector-effect": "non-scaling-stroke", "aria-hidden": "true" });
  return [line("ground", d), ...lines.filter(([, path]) => path).map(([kind, path]) => line(kind, path))];
}

/** Lengths along the cloth. @param {any} drawing */
function ruler({ ruler: marks = [], box }) {
  const foot = box[1] + box[3];
  return marks.flatMap((/** @type {any} */ mark) => [
    svg("path", { d: `M${mark.x} ${foot - 14} V${foot}`, class: "line mark", "vector-effect": "non-scaling-stroke", "aria-hidden": "true" }),
    svg("text", { x: mark.x, y: foot, class: "word ruler", "text-anchor": "middle", "dominant-baseline": "hanging", "aria-hidden": "true" }, mark.words),
  ]);
}
