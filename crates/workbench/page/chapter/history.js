// History: every revision, two of them laid over each other, and the way back to one without losing what came after.

import { get } from "../ask.js";
import { difference } from "../difference.js";
import { el, show } from "../dom.js";
import { patiently } from "../say.js";
import { Sheet } from "../sheet.js";
import { spread, table } from "../spread.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @returns {import("../desk.js").OpenChapter}
 */
export function openHistory(desk, place) {
  return new History(desk, place);
}

class History {
  /**
   * @param {Desk} desk
   * @param {HTMLElement} place
   */
  constructor(desk, place) {
    this.desk = desk;
    this.about = desk.name;
    this.closed = false;
    /** @type {any} */
    this.view = null;
    /** @type {number} */
    this.a = 0;
    /** @type {number} */
    this.b = 0;
    this.sheet = new Sheet({ label: "Two revisions over each other", describedby: "overlay-says" });
    this.says = el("div.says-of-overlay", { id: "overlay-says" });
    this.words = spread(place, "History", { sheet: this.sheet.element, foot: this.says }).words;
  }

  async load() {
    const view = await get("history", { name: this.about });
    if (this.closed) return;
    this.view = view;
    const revisions = view.revisions ?? [];
    const newest = revisions.at(-1)?.number < revisions[0]?.number ? revisions[0] : revisions.at(-1);
    this.b = newest?.number ?? 0;
    this.a = newest?.parent ?? this.b;
    this.desk.shows({ name: this.about, revision: this.b, can_undo: view.can_undo, can_redo: view.can_redo });
    this.#showWords();
    await this.#overlay();
  }

  close() {
    this.closed = true;
  }

  #showWords() {
    const names = [this.desk.name, this.desk.blockName(), this.desk.bodyName()].filter((name, index, all) => name && all.indexOf(name) === index);
    const choose = (/** @type {any} */ event) => {
      this.about = event.target.value;
      this.load().catch((fault) => this.desk.trouble(fault));
    };
    const revisions = [...(this.view.revisions ?? [])].sort((one, other) => other.number - one.number);
    show(
      this.words,
      el("div.number.wide", el("label", { for: "history-of" }, "of"), el("select", { id: "history-of", value: this.about, onchange: choose }, names.map((name) => el("option", { value: name }, this.desk.document(name)?.title ?? name)))),
      el("p.quiet", "Nothing is ever overwritten. Choose two to lay over each other."),
      el(
        "table.revisions",
        el("caption.unseen", "Revisions, the newest first"),
        el("thead", el("tr", el("th", { scope: "col" }, "grey"), el("th", { scope: "col" }, "ink"), el("th", { scope: "col" }, "what"), el("th", { scope: "col" }, el("span.unseen", "go back")))),
        el("tbody", revisions.map((one) => this.#line(one, revisions[0]?.number))),
      ),
    );
  }

  /** @param {any} one @param {number} newest */
  #line(one, newest) {
    const pick = (/** @type {"a" | "b"} */ which, /** @type {string} */ words) =>
      el("td", el("input", { type: "radio", name: `pick-${which}`, "aria-label": `Revision ${one.number} in ${words}`, checked: this[which] === one.number, onchange: () => this.#pick(which, one.number) }));
    const here = one.number === newest || one.current === true;
    return el(
      "tr",
      { "data-key": String(one.number), class: here ? "current" : null },
      pick("a", "grey"),
      pick("b", "ink"),
      el("td.what", el("b", `${one.number}`), " ", one.reason || "kept", one.undo_of && el("em", ` (takes back ${one.undo_of})`), el("span.when", el("time", { datetime: one.time }, one.shown_time ?? one.time))),
      el("td", here ? el("span.quiet", "now") : el("button.plain", { type: "button", "aria-label": `Go back to revision ${one.number}`, onclick: () => this.#goBack(one.number) }, "go back")),
    );
  }

  /** @param {"a" | "b"} which @param {number} number */
  #pick(which, number) {
    this[which] = number;
    patiently(this.#overlay()).catch((fault) => this.desk.trouble(fault));
  }

  async #overlay() {
    const { a, b } = this;
    if (!a || !b) return;
    const answer = await get("history/overlay", { name: this.about, a, b });
    if (this.closed || a !== this.a || b !== this.b) return;
    this.sheet.element.hidden = !answer.drawing?.pieces?.length;
    if (answer.drawing?.pieces?.length) {
      this.sheet.whole = true;
      this.sheet.draw(answer.drawing);
    }
    const rows = answer.rows ?? [];
    show(
      this.says,
      el("h2", a === b ? `Revision ${b}` : `From ${a} (grey) to ${b} (ink)`),
      (answer.said ?? []).map((/** @type {string} */ words) => el("p", words)),
      rows.length > 0 && table("What is different", ["what", "before", "then", "more or less", "where"].slice(0, rows[0].length), rows),
      answer.difference?.length > 0 && el("details", el("summary", "Lines of the text"), difference(answer.difference, "Lines that differ")),
    );
  }

  /** @param {number} number */
  async #goBack(number) {
    if (await this.desk.keep("history/go-back", () => ({ name: this.about, to: number }), `Back at revision ${number}; what came after is still in the history.`)) await this.load();
  }
}
