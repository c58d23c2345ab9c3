// Points that can be moved, with the number that each changes beside it. By pointer, or by arrow keys (1 mm, with Shift 5 mm) and Enter
// to type. The page works out no number: it tells where the hand is and shows what came of it.

import { el, svg, touched } from "./dom.js";

/** @typedef {import("./types.js").Handle} Handle */
/** @typedef {import("./types.js").StyleNumber} StyleNumber */
/** @typedef {import("./sheet.js").Sheet} Sheet */
/**
 * @typedef {object} Hands
 * @property {(handle: Handle, to: [number, number]) => void} drag while the point is held
 * @property {(handle: Handle, to: [number, number]) => void} drop when it is let go
 * @property {(handle: Handle, written: string) => void} type when its number was typed
 */

/** Two points nearer than this on the screen would be hard to tell apart, px; the later one waits for a nearer look. */
const APART = 26;
/** After this long without a key, a move by keys is done, ms. */
const REST = 700;
/** Arrow keys as directions on the table. @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** The handles on a sheet. */
export class Handles {
  /**
   * @param {Sheet} sheet
   * @param {Hands} hands
   */
  constructor(sheet, hands) {
    this.sheet = sheet;
    this.hands = hands;
    /** @type {Map<string, {handle: Handle, mark: SVGGElement}>} */
    this.all = new Map();
    /** @type {StyleNumber[]} */
    this.numbers = [];
    /** @type {{id: string, from: [number, number], grip: [number, number], to: [number, number]} | null} */
    this.held = null;
    /** The point whose number is shown. @type {string | undefined} */
    this.shownId = undefined;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.rest = undefined;
    this.layer = svg("g", { class: "handles", role: "group", "aria-label": "Points that can be moved" });
    sheet.front.append(this.layer);
    this.tag = el("div.tag", { hidden: true });
    sheet.element.append(this.tag);
    sheet.watch(() => this.place());
  }

  /**
   * Takes the handles as the server sees them now.
   * @param {Handle[]} handles
   * @param {StyleNumber[]} [numbers]
   */
  set(handles, numbers) {
    if (numbers) this.numbers = numbers;
    const wanted = new Map(handles.map((handle) => [handle.id, handle]));
    for (const [id, { mark }] of this.all) {
      if (!wanted.has(id) && this.held?.id !== id) {
        mark.remove();
        this.all.delete(id);
      }
    }
    for (const handle of handles) {
      const old = this.all.get(handle.id);
      const mark = old?.mark ?? this.#mark(handle.id);
      if (!old) this.layer.append(mark);
      this.all.set(handle.id, { handle, mark });
      this.#describe(handle, mark);
    }
    this.place();
    if (this.shownId) this.#fillTag(this.shownId, false);
  }

  /** @param {Handle} handle */
  #number(handle) {
    return this.numbers.find((number) => number.id === handle.number);
  }

  /**
   * @param {Handle} handle
   * @param {SVGGElement} mark
   */
  #describe(handle, mark) {
    const number = this.#number(handle);
    mark.setAttribute("aria-label", handle.label);
    mark.setAttribute("aria-valuetext", handle.shown);
    mark.setAttribute("aria-valuenow", String(handle.value ?? number?.value ?? 0));
    const bounds = { "aria-valuemin": handle.least ?? number?.least, "aria-valuemax": handle.most ?? number?.most };
    for (const [name, value] of Object.entries(bounds)) {
      if (typeof value === "number") mark.setAttribute(name, String(value));
    }
    const line = /** @type {SVGElement} */ (mark.querySelector(".way"));
    const along = handle.along;
    line.toggleAttribute("hidden", !along);
    if (along) {
      const [x, y] = [along[0] * 17, along[1] * 17];
      line.setAttribute("d", `M${-x} ${-y} L${x} ${y}`);
    }
  }

  /** @param {string} id @returns {SVGGElement} */
  #mark(id) {
    const mark = svg(
      "g",
      { class: "handle", role: "slider", tabindex: 0, "data-handle": id, "aria-valuenow": 0 },
      svg("circle", { class: "hit", r: 13 }),
      svg("path", { class: "way", d: "M0 0" }),
      svg("circle", { class: "knob", r: 5.5 }),
    );
    mark.onpointerdown = (/** @type {PointerEvent} */ event) => this.#take(id, mark, event);
    mark.onpointermove = (/** @type {PointerEvent} */ event) => this.#move(id, event);
    mark.onpointerup = () => this.#letGo(id);
    mark.onpointercancel = () => this.#letGo(id);
    mark.onpointerenter = () => this.#fillTag(id, false);
    mark.onfocus = () => this.#fillTag(id, false);
    mark.onblur = (/** @type {FocusEvent} */ event) => this.#left(id, event);
    mark.onkeydown = (/** @type {KeyboardEvent} */ event) => this.#key(id, event);
    return mark;
  }

  /** Places all handles where their points are on the screen; later ones wait where there is no room. */
  place() {
    /** @type {[number, number][]} */
    const taken = [];
    const active = document.activeElement;
    for (const { handle, mark } of this.all.values()) {
      const at = this.sheet.toScreen(handle.at);
      mark.setAttribute("transform", `translate(${at[0]} ${at[1]})`);
      const crowded = taken.some((other) => Math.hypot(other[0] - at[0], other[1] - at[1]) < APART);
      const hidden = crowded && this.held?.id !== handle.id && mark !== active;
      mark.toggleAttribute("hidden", hidden);
      if (!crowded) taken.push(at);
    }
    this.#placeTag();
  }

  /**
   * @param {string} id
   * @param {SVGGElement} mark
   * @param {PointerEvent} event
   */
  #take(id, mark, event) {
    if (event.button !== 0) return;
    event.stopPropagation();
    event.preventDefault();
    const handle = this.#of(id);
    mark.focus();
    mark.setPointerCapture(event.pointerId);
    this.held = { id, from: handle.at, grip: this.sheet.toDrawing(event), to: handle.at };
    mark.classList.add("held");
    this.sheet.element.classList.add("dragging");
  }

  /**
   * @param {string} id
   * @param {PointerEvent} event
   */
  #move(id, event) {
    const held = this.held;
    if (held?.id !== id) return;
    const [x, y] = this.sheet.toDrawing(event);
    held.to = [held.from[0] + x - held.grip[0], held.from[1] + y - held.grip[1]];
    this.hands.drag(this.#of(id), held.to);
  }

  /** @param {string} id */
  #letGo(id) {
    const held = this.held;
    if (held?.id !== id) return;
    this.held = null;
    this.all.get(id)?.mark.classList.remove("held");
    this.sheet.element.classList.remove("dragging");
    if (Math.hypot(held.to[0] - held.from[0], held.to[1] - held.from[1]) > 0) this.hands.drop(this.#of(id), held.to);
  }

  /**
   * @param {string} id
   * @param {KeyboardEvent} event
   */
  #key(id, event) {
    const arrow = ARROWS[event.key];
    if (event.key === "Enter" || event.key === " ") this.#fillTag(id, true);
    else if (event.key === "Escape") this.#hideTag();
    else if (arrow && !event.ctrlKey && !event.metaKey) this.#nudge(id, arrow, event.shiftKey ? 5 : 1);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /**
   * Moves a point by a key; the move is done once the keys rest.
   * @param {string} id
   * @param {[number, number]} arrow
   * @param {number} by mm
   */
  #nudge(id, arrow, by) {
    const handle = this.#of(id);
    const start = this.held?.id === id ? this.held : { id, from: handle.at, grip: handle.at, to: handle.at };
    const way = handle.along ? project(handle.along, arrow) : arrow;
    start.to = [start.to[0] + way[0] * by, start.to[1] + way[1] * by];
    this.held = start;
    this.hands.drag(handle, start.to);
    clearTimeout(this.rest);
    this.rest = setTimeout(() => this.#letGo(id), REST);
  }

  /** @param {string} id */
  #of(id) {
    return /** @type {{handle: Handle}} */ (this.all.get(id)).handle;
  }

  /**
   * @param {string} id
   * @param {FocusEvent} event
   */
  #left(id, event) {
    if (this.held?.id === id) {
      clearTimeout(this.rest);
      this.#letGo(id);
    }
    if (!this.tag.contains(/** @type {Node | null} */ (event.relatedTarget))) this.#hideTag();
  }

  #hideTag() {
    this.tag.hidden = true;
    this.shownId = undefined;
  }

  /**
   * Shows the number beside the point, and puts the cursor into it where that is asked.
   * @param {string} id
   * @param {boolean} write
   */
  #fillTag(id, write) {
    const entry = this.all.get(id);
    if (!entry) return;
    const { handle, mark } = entry;
    if (this.shownId !== id) {
      const field = el("input", {
        id: "tag-field",
        autocomplete: "off",
        oninput: touched,
        onkeydown: (/** @type {KeyboardEvent} */ event) => this.#typed(id, mark, event),
        onblur: () => this.tag.contains(document.activeElement) || this.#hideTag(),
      });
      this.tag.replaceChildren(el("label", { for: "tag-field" }, handle.label), field);
      this.shownId = id;
    }
    const field = /** @type {HTMLInputElement} */ (this.tag.querySelector("input"));
    if (field !== document.activeElement) field.value = handle.shown;
    this.tag.hidden = false;
    this.#placeTag();
    if (write) {
      field.focus();
      field.select();
    }
  }

  /**
   * @param {string} id
   * @param {SVGGElement} mark
   * @param {KeyboardEvent} event
   */
  #typed(id, mark, event) {
    if (event.key !== "Enter" && event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    const written = /** @type {HTMLInputElement} */ (event.target).value;
    mark.focus();
    if (event.key === "Enter") this.hands.type(this.#of(id), written);
  }

  #placeTag() {
    const entry = this.shownId ? this.all.get(this.shownId) : undefined;
    if (!entry || this.tag.hidden) return;
    const [x, y] = this.sheet.toScreen(entry.handle.at);
    const { width, height } = this.sheet.size;
    const own = this.tag.getBoundingClientRect();
    const left = x + 20 + own.width > width ? x - 20 - own.width : x + 20;
    this.tag.style.left = `${Math.max(4, left)}px`;
    this.tag.style.top = `${Math.min(Math.max(4, y - own.height / 2), height - own.height - 4)}px`;
  }
}

/**
 * An arrow key on a point that moves along a line: forth where the arrow looks along it, back where it looks against it; right and
 * down count as forth where it looks across.
 * @param {[number, number]} along
 * @param {[number, number]} arrow
 * @returns {[number, number]}
 */
function project(along, arrow) {
  const dot = along[0] * arrow[0] + along[1] * arrow[1];
  const sign = Math.abs(dot) > 0.2 ? Math.sign(dot) : arrow[0] + arrow[1];
  return [along[0] * sign, along[1] * sign];
}
