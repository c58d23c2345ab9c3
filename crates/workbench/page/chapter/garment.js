// Block and style: the drawing with its points, the numbers, the steps, what was found, and the girths.

import { get, newest, post } from "../ask.js";
import { el, show, touched } from "../dom.js";
import { Handles } from "../handles.js";
import { Margin } from "../margin.js";
import { numberGroups } from "../numbers.js";
import { Partners } from "../partners.js";
import { say } from "../say.js";
import { Sheet } from "../sheet.js";
import { spread, table } from "../spread.js";
import { stepList } from "../steps.js";

/** @typedef {import("../desk.js").Desk} Desk */
/** @typedef {import("../types.js").Handle} Handle */

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @param {string} name
 * @param {"block" | "style"} about
 * @returns {import("../desk.js").OpenChapter}
 */
export function openGarment(desk, place, name, about) {
  return new Garment(desk, place, name, about);
}

class Garment {
  /**
   * @param {Desk} desk
   * @param {HTMLElement} place
   * @param {string} name
   * @param {"block" | "style"} about
   */
  constructor(desk, place, name, about) {
    this.desk = desk;
    this.name = name;
    this.about = about;
    /** @type {any} */
    this.view = null;
    this.closed = false;
    this.sheet = new Sheet({ label: "The pieces", describedby: "pieces-in-words" });
    this.partners = new Partners(this.sheet);
    this.margin = new Margin(this.sheet, (finding, mend) => this.#mend(finding, mend));
    this.handles = new Handles(this.sheet, {
      drag: (handle, to) => this.drags.wish({ handle, to }),
      drop: (handle, to) => this.#drop(handle, to),
      type: (handle, written) => this.#type(handle.number ?? handle.id, written),
    });
    this.drags = newest((/** @type {{handle: Handle, to: [number, number]}} */ wish) => this.#drag(wish));
    const title = desk.document(name)?.title ?? name;
    this.girths = el("div.girths");
    const foot = el("div.foot", this.girths);
    this.words = spread(place, title, { sheet: this.sheet.element, margin: this.margin.element, foot }).words;
  }

  async load() {
    this.#take(await get("garment", { name: this.name, known: this.view ? this.sheet.pieces.known() : undefined }));
  }

  close() {
    this.closed = true;
  }

  /** Takes a whole view. @param {any} view */
  #take(view) {
    if (!view || this.closed) return;
    this.view = view;
    this.desk.shows(view);
    this.partners.set(view.partners ?? []);
    this.#draw(view.drawing);
    this.handles.set(view.handles ?? [], view.numbers ?? []);
    this.margin.set(view.findings ?? []);
    this.#showGirths(view.girths ?? []);
    this.#showWords();
  }

  /** Draws the pieces; a garment that cannot be drafted has none, and its findings say why. @param {any} drawing */
  #draw(drawing) {
    if (drawing) this.sheet.draw(drawing);
    else this.sheet.pieces.clear();
    this.sheet.look();
  }

  /** @param {any[]} girths */
  #showGirths(girths) {
    const rows = girths.map(({ level, body, ease, has, closed }) => [level, body, ease, has, closed]);
    show(this.girths, rows.length > 0 && table("Round the body", ["level", "body", "ease asked", "ease it has", "closed pattern"], rows));
  }

  #showWords() {
    const view = this.view;
    show(
      this.words,
      standsOn(view, this.desk),
      view.newer && el("p.newer", { role: "note" }, view.newer.words ?? String(view.newer)),
      el("p.unseen", { id: "pieces-in-words" }, "Drawing of the pieces. ", [...this.sheet.pieces.all.values()].map(({ piece }) => `${piece.words} `)),
      el("h2", "Numbers"),
      el("p.quiet", "Type one, or drag its point on the drawing. Ctrl+Z takes anything back."),
      numberGroups(view.numbers ?? [], (number, written) => this.#type(number.id, written)),
      el("h2", this.about === "block" ? "Changes to the block" : "Steps"),
      stepList(view.steps ?? [], view.steps_that_exist ?? [], {
        act: (what) => this.#do("garment/step", what),
        type: (number, written) => this.#type(number.id, written),
        light: (edges) => this.sheet.pieces.light(new Set(edges)),
      }),
      this.partners.list(),
      this.#text(),
    );
  }

  /** The recipe as a text, for whoever likes to write. */
  #text() {
    const save = () => {
      const field = /** @type {HTMLTextAreaElement} */ (document.getElementById("recipe-text"));
      delete field.dataset.touched;
      this.#do("text", { text: field.value, reason: "written by hand" }).then((done) => done && this.load());
    };
    return el(
      "details.recipe",
      { "data-key": "recipe" },
      el("summary", "The recipe as a text"),
      el("label.unseen", { for: "recipe-text" }, "Recipe"),
      el("textarea", { id: "recipe-text", rows: 16, spellcheck: "false", oninput: touched, value: this.view.text ?? "" }),
      el("div.row", el("button", { type: "button", onclick: save }, "Keep this text")),
    );
  }

  /**
   * Does something that is kept, and shows what came of it.
   * @param {string} path
   * @param {Record<string, any>} what
   */
  async #do(path, what) {
    const body = () => ({ name: this.name, known: this.sheet.pieces.known(), ...what });
    const view = await this.desk.keep(path, body, undefined, (view) => view.numbers && this.#take(view));
    if (!view) this.#showWords();
    return view;
  }

  /** @param {string} id @param {string} written */
  #type(id, written) {
    return this.#do("garment/number", { id, written });
  }

  /** @param {any} finding @param {any} mend */
  #mend(finding, mend) {
    return this.#do("garment/mend", { finding: finding.id, code: finding.code, number: mend.number });
  }

  /** One redraw under the hand. @param {{handle: Handle, to: [number, number]}} wish */
  async #drag({ handle, to }) {
    try {
      const sent = performance.now();
      const known = this.sheet.pieces.known();
      const now = await post("garment/drag", { name: this.name, on: this.view.revision, handle: handle.id, to, known });
      if (this.closed || !now.drawing) return;
      const answered = performance.now();
      this.sheet.draw(now.drawing);
      this.handles.set(now.handles ?? [], withShown(this.view.numbers ?? [], now.number));
      if (now.findings) this.margin.follow(now.findings);
      if (now.girths) this.#showGirths(now.girths);
      this.#showNumber(now.number);
      performance.measure("draw", { start: answered });
      performance.measure("redraw", { start: sent });
    } catch (fault) {
      this.desk.trouble(fault);
    }
  }

  /** The number in the words follows the hand. @param {{id: string, shown: string} | undefined} number */
  #showNumber(number) {
    if (!number) return;
    const field = document.getElementById(`number-${number.id}`);
    if (field instanceof HTMLInputElement && field.dataset.touched !== "yes") field.value = number.shown;
  }

  /** @param {Handle} handle @param {[number, number]} to */
  async #drop(handle, to) {
    await this.drags.settle();
    const view = await this.#do("garment/drag-end", { handle: handle.id, to });
    if (!view) await this.load();
    else if (!view.said) say(`${handle.label}: ${view.handles?.find((/** @type {Handle} */ one) => one.id === handle.id)?.shown ?? ""}. Kept.`);
  }
}

/**
 * @param {import("../types.js").StyleNumber[]} numbers
 * @param {any} changed
 */
function withShown(numbers, changed) {
  return numbers.map((number) => (number.id === changed?.id ? { ...number, ...changed } : number));
}

/**
 * @param {any} view
 * @param {Desk} desk
 */
function standsOn(view, desk) {
  const body = view.on?.body?.name;
  const base = view.on?.base?.name;
  const link = (/** @type {string} */ chapter, /** @type {string} */ name) =>
    el("a", { href: `#${chapter}/${encodeURIComponent(chapter === "body" ? desk.name : name)}` }, desk.document(name)?.title ?? name);
  if (!body && !base) return null;
  return el("p.on", "On ", body && ["the body of ", link("body", body)], base && base !== view.name && [" and the block ", link("block", desk.name), ""], ".");
}
