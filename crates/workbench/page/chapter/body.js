// The body: a guided measuring, group by group, beside figures drawn from the measures themselves.

import { get, newest, post } from "../ask.js";
import { el, show, touched } from "../dom.js";
import { Sheet } from "../sheet.js";
import { spread } from "../spread.js";
import { difference } from "../difference.js";
import { figureOf, sameSize } from "./figure.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @returns {import("../desk.js").OpenChapter}
 */
export function openBody(desk, place) {
  return new Body(desk, place);
}

/** The three figures and what they are called. */
const SIDES = /** @type {const} */ ([
  ["front", "front"],
  ["side", "side"],
  ["back", "back"],
]);

class Body {
  /**
   * @param {Desk} desk
   * @param {HTMLElement} place
   */
  constructor(desk, place) {
    this.desk = desk;
    this.name = desk.bodyName();
    /** @type {any} */
    this.view = null;
    this.at = 0;
    this.closed = false;
    /** The measure whose help is open: the one that was read last, so that nothing moves away under a hand that presses elsewhere. */
    this.reading = "";
    /** What is typed and not kept yet. @type {Record<string, string[]>} */
    this.typed = {};
    this.sheets = SIDES.map(([, title]) => new Sheet({ label: `Figure, ${title}`, titles: false }));
    const figures = el(
      "div.figures",
      { "data-keep": true },
      this.sheets.map((sheet, index) => el("figure", sheet.element, el("figcaption", SIDES[index][1]))),
    );
    this.summary = el("div.summary");
    this.words = spread(place, desk.document(this.name)?.title ?? "Body", { sheet: figures, foot: this.summary }).words;
    this.tries = newest((/** @type {Record<string, string[]>} */ measures) => this.#try(measures));
  }

  async load() {
    this.#take(await get("body", { name: this.name }));
  }

  close() {
    this.closed = true;
  }

  /** @param {any} view @param {boolean} [stored] */
  #take(view, stored = true) {
    if (!view || this.closed) return;
    if (stored) {
      this.view = view;
      this.desk.shows(view);
    }
    const all = (view.groups ?? []).flatMap((/** @type {any} */ group) => group.measures);
    const keys = new Map(all.map((/** @type {any} */ one) => [String(one.number), one.key]));
    const boxes = sameSize(SIDES.map(([side]) => view.figures?.[side]?.box ?? [0, 0, 1, 1]));
    SIDES.forEach(([side], index) => {
      const drawing = view.figures?.[side];
      if (drawing) this.sheets[index].draw({ ...figureOf(drawing, keys), box: boxes[index] });
    });
    this.#showSummary(view);
    this.#showWords(view);
    this.#showTapes();
  }

  /** @param {any} view */
  #showSummary({ summary = {}, findings = [] }) {
    show(
      this.summary,
      el("p.agreement", summary.words ?? "", summary.agreement ? ` ${summary.agreement}` : ""),
      findings.length > 0 &&
        el(
          "ul.found-list",
          findings.map((/** @type {import("../types.js").Finding} */ finding) =>
            el("li", { class: `note ${finding.severity}`, "data-key": finding.id }, el("p.message", finding.message), finding.next && el("p", finding.next), finding.why && el("details", el("summary", "Why"), el("p", finding.why))),
          ),
        ),
    );
  }

  /** @param {any} view */
  #showWords(view) {
    const groups = view.groups ?? [];
    const group = groups[this.at] ?? groups[0];
    if (!group) return;
    show(
      this.words,
      el("nav.groups", { "aria-label": "Groups of measures" }, el("ol", groups.map((/** @type {any} */ one, /** @type {number} */ index) => this.#tab(one, index)))),
      el("h2", { id: "group-title", tabindex: -1 }, group.title),
      group.words && el("p.quiet", group.words),
      el("div.measures", { "data-key": group.title }, group.measures.map((/** @type {any} */ measure) => this.#measure(measure, view))),
      el(
        "div.row",
        el("button.plain", { type: "button", disabled: this.at === 0, onclick: () => this.#turn(this.at - 1) }, "Before"),
        this.at < groups.length - 1
          ? el("button", { type: "button", onclick: () => this.#turn(this.at + 1) }, `Next: ${groups[this.at + 1].title}`)
          : el("button", { type: "button", onclick: () => this.desk.go(this.desk.blockName() ? "block" : "style") }, "See the pattern"),
      ),
    );
  }

  /** @param {any} group @param {number} index */
  #tab(group, index) {
    const taped = group.measures.filter((/** @type {any} */ one) => one.origin === "taped").length;
    return el(
      "li",
      el("button.plain", { type: "button", "aria-current": index === this.at ? "step" : null, onclick: () => this.#turn(index) }, group.title, " ", el("span.count", `${taped}/${group.measures.length}`)),
    );
  }

  /** @param {number} index */
  #turn(index) {
    this.at = index;
    this.#showWords(this.view);
    this.#showTapes();
    document.getElementById("group-title")?.focus();
  }

  /** @param {any} measure @param {any} view */
  #measure(measure, view) {
    const id = `measure-${measure.key}`;
    const written = (this.typed[measure.key] ?? measure.written ?? []).join(" ; ");
    const findings = (view.findings ?? []).filter((/** @type {any} */ one) => (measure.finding_ids ?? []).includes(one.id));
    return el(
      `div.measure.${measure.plausible}${this.reading === measure.key ? ".read" : ""}`,
      { "data-key": measure.key },
      el("label", { for: id }, el("b", String(measure.number)), " ", measure.label, measure.needed && measure.origin !== "taped" && el("span.quiet", " · needed")),
      el("input", {
        id,
        value: written,
        placeholder: measure.origin === "taped" ? "" : `${measure.shown}`,
        inputmode: "text",
        autocomplete: "off",
        "aria-describedby": `${id}-how ${id}-says`,
        "aria-invalid": measure.plausible === "error" ? "true" : null,
        oninput: (/** @type {any} */ event) => this.#typing(event, measure.key),
        onfocus: () => this.#read(measure.key),
        onblur: () => this.#light(null),
        onchange: (/** @type {any} */ event) => this.#keep(measure.key, event.target),
      }),
      el("p.says", { id: `${id}-says` }, saysOf(measure)),
      measure.asks && this.#question(measure),
      findings.map((/** @type {any} */ finding) => el("p.found-here", { "data-key": finding.id }, finding.message, " ", finding.next)),
      el("p.how", { id: `${id}-how` }, measure.also && [`Also called ${measure.also}. `], measure.what && [measure.what, " "], measure.how, measure.helped && [" With a helper: ", measure.helped]),
    );
  }

  /** A slip of the tape that can be mended by a press: “29: is that inches?” @param {any} measure */
  #question(measure) {
    return el(
      "div.asks",
      { role: "group", "aria-label": measure.asks.words, "data-key": "asks" },
      el("p", measure.asks.words),
      (measure.asks.mends ?? []).map((/** @type {any} */ mend) =>
        el(
          "div.cure",
          mend.lines?.length > 0 && difference(mend.lines, "What would be written"),
          el("button", { type: "button", onclick: () => this.#answer(measure.key, mend) }, mend.words),
        ),
      ),
    );
  }

  /** @param {string} key @param {any} mend */
  #answer(key, mend) {
    const texts = mend.written ?? mend.texts;
    if (texts) this.#store({ [key]: texts });
  }

  /** @param {Event} event @param {string} key */
  #typing(event, key) {
    touched(event);
    this.typed[key] = split(/** @type {HTMLInputElement} */ (event.target).value);
    this.tries.wish({ ...this.typed });
  }

  /** @param {Record<string, string[]>} measures */
  async #try(measures) {
    try {
      const view = await post("body/try", { name: this.name, measures });
      if (Object.keys(this.typed).length === 0) return;
      const asked = this.words.querySelector(".asks");
      this.#take(view, false);
      // A question that comes up below the edge of the page would not be seen.
      if (!asked) this.words.querySelector(".asks")?.scrollIntoView({ block: "nearest" });
    } catch (fault) {
      this.desk.trouble(fault);
    }
  }

  /** @param {string} key @param {HTMLInputElement} field */
  #keep(key, field) {
    delete field.dataset.touched;
    return this.#store({ [key]: split(field.value) });
  }

  /** @param {Record<string, string[]>} measures */
  async #store(measures) {
    await this.desk.keep("body/keep", () => ({ name: this.name, measures }), undefined, (kept) => {
      for (const key of Object.keys(measures)) {
        // What was typed on while the keeping ran stays typed.
        const field = document.getElementById(`measure-${key}`);
        if (field?.dataset.touched !== "yes") delete this.typed[key];
      }
      this.#take(kept);
    });
  }

  /** Shows the tapes of the group that is read, and no others. */
  #showTapes() {
    const group = this.view?.groups?.[this.at];
    const keys = new Set((group?.measures ?? []).map((/** @type {any} */ one) => one.key));
    this.#each((line, key) => line.classList.toggle("shown", keys.has(key)));
  }

  /** @param {string} key */
  #read(key) {
    this.reading = key;
    for (const one of this.words.querySelectorAll(".measure")) one.classList.toggle("read", one.getAttribute("data-key") === key);
    this.#light(key);
  }

  /** Lights the tape of the field under the cursor. @param {string | null} lit */
  #light(lit) {
    this.#each((line, key) => line.classList.toggle("lit", key === lit));
  }

  /** @param {(line: Element, key: string) => void} act */
  #each(act) {
    for (const sheet of this.sheets) {
      for (const line of sheet.world.querySelectorAll(".measure, .callout")) act(line, /** @type {SVGElement} */ (line).dataset.id ?? "");
    }
  }
}

/** Several readings of one measure stand beside each other with semicolons. @param {string} value */
function split(value) {
  return value
    .split(";")
    .map((text) => text.trim())
    .filter((text) => text !== "");
}

/** @param {any} measure */
function saysOf({ origin, origin_words: from, shown, spread_shown: spread, plausible }) {
  if (origin !== "taped") return [`about ${shown} ${spread ?? ""}`, from && `, ${from}`];
  if (plausible === "ok") return [shown, from && from !== "taped" && `, ${from}`, el("span.tick", " — hangs together")];
  return [shown, el("span.odd", " — look again")];
}
