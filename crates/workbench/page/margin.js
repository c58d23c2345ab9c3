// The margin: what was found, each note as near as can be to the place that it speaks of, with a thread from one to the other.

import { el, show, svg } from "./dom.js";
import { difference } from "./difference.js";

/** @typedef {import("./types.js").Finding} Finding */
/** @typedef {import("./types.js").Mend} Mend */
/** @typedef {import("./sheet.js").Sheet} Sheet */

/** Words for how much a finding matters. */
const SEVERITY = { error: "must be mended", warning: "look at this", note: "good to know" };

/** Places that differ by less than this stand at one height, mm. */
const LEVEL = 25;

/** Findings beside a drawing. */
export class Margin {
  /**
   * @param {Sheet} sheet
   * @param {(finding: Finding, mend: Mend) => void} mend
   */
  constructor(sheet, mend) {
    this.sheet = sheet;
    this.mend = mend;
    /** @type {Finding[]} */
    this.findings = [];
    this.notes = el("ol.notes");
    this.element = el("aside.margin", { "data-keep": true, "aria-label": "What was found" }, this.notes);
    this.threads = svg("svg", { class: "threads", "aria-hidden": "true" });
    this.waiting = false;
    this.marks = svg("g", { class: "marks", "aria-hidden": "true" });
    sheet.front.append(this.marks);
    sheet.watch(() => this.#soon());
    window.addEventListener("resize", () => this.#soon());
  }

  /** Places once a frame, however often the drawing changes in it. */
  #soon() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.place();
    });
  }

  /**
   * Follows a drag: where the same is found at other places only the marks move; the cures come back when it ends.
   * @param {Finding[]} findings
   */
  follow(findings) {
    const byId = new Map(findings.map((finding) => [finding.id, finding]));
    const same = findings.length === this.findings.length && this.findings.every((old) => byId.get(old.id)?.message === old.message);
    if (same) {
      this.findings = this.findings.map((old) => ({ ...old, places: byId.get(old.id)?.places ?? old.places }));
      this.#soon();
    } else this.set(findings.map((finding) => ({ ...finding, mends: [] })));
  }

  /** @param {Finding[]} findings */
  set(findings) {
    const order = { error: 0, warning: 1, note: 2 };
    // Down the margin in the order of the places; of those at one height the left one first, so that threads do not cross. What
    // speaks of the whole comes last, the grave before the light.
    const key = (/** @type {Finding} */ finding) => {
      const [x, y] = placeOf(finding) ?? [0, 1e9];
      return [Math.round(y / LEVEL), order[finding.severity] * (y === 1e9 ? 1 : 0), x];
    };
    this.findings = [...findings].sort((a, b) => compare(key(a), key(b)));
    show(
      this.notes,
      this.findings.map((finding, index) => this.#note(finding, index + 1)),
      findings.length === 0 && el("li.none", "Nothing was found that needs mending."),
    );
    this.#soon();
  }

  /**
   * @param {Finding} finding
   * @param {number} number
   */
  #note(finding, number) {
    return el(
      `li.note.${finding.severity}`,
      {
        "data-key": finding.id,
        onpointerenter: () => this.#look(finding, true),
        onpointerleave: () => this.#look(finding, false),
      },
      el("p.head", el("span.number", String(number)), el("span.severity", SEVERITY[finding.severity]), whereOf(finding)),
      el("p.message", finding.message),
      measured(finding),
      (finding.why || finding.next) &&
        el("details", el("summary", finding.next ? "What to do, and why" : "Why"), finding.next && el("p", finding.next), finding.why && el("p.why", finding.why)),
      finding.mends.map((mend) => this.#cure(finding, mend)),
    );
  }

  /**
   * @param {Finding} finding
   * @param {Mend} mend
   */
  #cure(finding, mend) {
    return el(
      "div.cure",
      { "data-key": `mend-${mend.number}` },
      el("p", mend.words),
      mend.lines?.length > 0 && difference(mend.lines, "Lines of the recipe that change"),
      el("button", { type: "button", onclick: () => this.mend(finding, mend), "aria-label": `Mend: ${mend.words}` }, "Mend it so"),
    );
  }

  /**
   * @param {Finding} finding
   * @param {boolean} on
   */
  #look(finding, on) {
    const edges = finding.places.flatMap((place) => place.edge ?? []);
    this.sheet.pieces.light(new Set(on ? edges : []));
    const mark = this.marks.querySelector(`[data-finding="${CSS.escape(finding.id)}"]`);
    mark?.classList.toggle("looked-at", on);
  }

  /** Marks the places on the drawing, moves the notes beside them, and draws the threads. */
  place() {
    const marks = this.findings.map((finding, index) => this.#mark(finding, index + 1));
    this.marks.replaceChildren(...marks.filter((mark) => mark !== null));
    this.#settle();
    this.#thread();
  }

  /**
   * @param {Finding} finding
   * @param {number} number
   * @returns {SVGGElement | null}
   */
  #mark(finding, number) {
    const at = placeOf(finding);
    if (!at) return null;
    const [x, y] = this.sheet.toScreen(at);
    const place = { class: `found ${finding.severity}`, transform: `translate(${x} ${y})`, "data-finding": finding.id };
    return svg("g", place, svg("circle", { r: 9.5 }), svg("text", { y: 5 }, String(number)));
  }

  /** Whether the margin stands beside the drawing and not below it. */
  #beside() {
    const own = this.element.getBoundingClientRect();
    const sheet = this.sheet.element.getBoundingClientRect();
    return own.width > 0 && own.left >= sheet.right - 2;
  }

  /** Gives each note the room that brings it to the height of its place, as far as all of them fit. */
  #settle() {
    const items = /** @type {HTMLElement[]} */ ([...this.notes.children]);
    for (const item of items) item.style.marginTop = "";
    if (!this.#beside()) return;
    const top = this.notes.getBoundingClientRect().top - this.sheet.svg.getBoundingClientRect().top;
    const heights = items.map((item) => item.getBoundingClientRect().height + 14);
    const all = heights.reduce((sum, height) => sum + height, 0);
    let spare = Math.max(0, this.element.clientHeight - all - 8);
    let bottom = top;
    items.forEach((item, index) => {
      const finding = this.findings[index];
      const at = finding && placeOf(finding);
      const wish = at ? this.sheet.toScreen(at)[1] - 16 : bottom;
      const room = Math.round(Math.min(spare, Math.max(0, wish - bottom)));
      if (room > 0) item.style.marginTop = `${room}px`;
      spare -= room;
      bottom += room + heights[index];
    });
  }

  #thread() {
    if (!this.threads.isConnected) {
      this.sheet.element.append(this.threads);
      this.element.addEventListener("scroll", () => this.#thread(), { passive: true });
    }
    this.threads.replaceChildren();
    if (!this.#beside()) return;
    const corner = this.sheet.svg.getBoundingClientRect();
    const strip = this.element.getBoundingClientRect();
    [...this.notes.children].forEach((item, index) => {
      const at = this.findings[index] && placeOf(this.findings[index]);
      if (!at) return;
      const [x, y] = this.sheet.toScreen(at);
      const box = item.getBoundingClientRect();
      const end = box.top + 15;
      if (end < strip.top || end > strip.bottom || x < 0 || y < 0 || x > corner.width || y > corner.height) return;
      const [ex, ey] = [box.left - corner.left, end - corner.top];
      const bend = Math.max(x + 14, ex - 36);
      this.threads.append(svg("path", { class: "thread", d: `M${x + 10} ${y} L${bend} ${ey} L${ex} ${ey}` }));
    });
  }
}

/** The first difference of two lists decides. @param {number[]} a @param {number[]} b */
function compare(a, b) {
  return a.map((value, index) => value - b[index]).find((difference) => difference !== 0) ?? 0;
}

/** @param {Finding} finding @returns {[number, number] | null} */
function placeOf(finding) {
  return finding.places.find((place) => place.at)?.at ?? null;
}

/** @param {Finding} finding */
function whereOf(finding) {
  const words = finding.places.filter((place) => place.kind !== "text").map((place) => place.words);
  return words.length > 0 && el("span.where", words.join(", "));
}

/** @param {Finding} finding */
function measured(finding) {
  if (!finding.found) return null;
  return el("p.measured", `Found ${finding.found}`, finding.allowed && `; right would be ${finding.allowed}`, ".");
}
