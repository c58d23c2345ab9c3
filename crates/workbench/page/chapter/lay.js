// Cloth and lay: how the pieces lie on the cloth. A lay is looked for with the progress seen, can be stopped, and adapts to a piece that
// was put somewhere by hand.

import { get, post } from "../ask.js";
import { el, show } from "../dom.js";
import { LaySheet } from "../lay-drawing.js";
import { say } from "../say.js";
import { spread } from "../spread.js";

/** @typedef {import("../desk.js").Desk} Desk */

/** Seconds for the first look, and for a longer one. */
const QUICK = 2;
const LONG = 30;

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @returns {import("../desk.js").OpenChapter}
 */
export function openLay(desk, place) {
  return new Lay(desk, place);
}

class Lay {
  /**
   * @param {Desk} desk
   * @param {HTMLElement} place
   */
  constructor(desk, place) {
    this.desk = desk;
    this.closed = false;
    /** @type {any} */
    this.view = null;
    this.layer = "";
    this.way = "";
    this.seed = 1;
    this.searching = false;
    /** @type {string | null} */
    this.job = null;
    /** @type {any} */
    this.now = null;
    this.chosen = 0;
    /** @type {any[]} */
    this.held = [];
    /** @type {any} */
    this.answers = null;
    /** What is being tried for the answers. */
    this.asking = "";
    this.lay = new LaySheet((piece, at) => this.#put(piece, at));
    this.report = el("div.report");
    this.words = spread(place, "Cloth and lay", { sheet: this.lay.sheet.element, foot: this.report }).words;
  }

  async load() {
    this.view = await get("lay", { name: this.desk.name });
    if (this.closed) return;
    this.desk.shows(this.view);
    const layers = this.view.layers ?? [];
    this.layer = layers.some((/** @type {any} */ one) => one.layer === this.layer) ? this.layer : (layers[0]?.layer ?? "");
    this.#showWords();
    const found = (this.view.lays ?? []).filter((/** @type {any} */ one) => !one.layer || one.layer === this.layer);
    if (found.length > 0) this.#take({ state: "done", lays: found });
    else if (this.layer) this.#search(QUICK);
  }

  close() {
    this.closed = true;
    if (this.job) post("lay/stop", { job: this.job }).catch(() => {});
  }

  /** @param {number} seconds */
  async #search(seconds) {
    this.searching = true;
    if (this.now) this.now.state = "running";
    this.#showWords();
    try {
      if (this.job) await post("lay/stop", { job: this.job });
      const wish = { name: this.desk.name, layer: this.layer, way: this.way || undefined, seconds, seed: this.seed, held: this.held };
      const { job } = await post("lay/start", wish);
      this.job = job;
      await this.#follow(job);
    } catch (fault) {
      this.job = null;
      this.searching = false;
      if (this.now) this.now.state = "stopped";
      this.desk.trouble(fault);
      this.#showWords();
    }
  }

  /** @param {string} job */
  async #follow(job) {
    let since = 0;
    while (!this.closed && this.job === job) {
      const now = await get("lay/now", { job, since });
      if (this.closed || this.job !== job) return;
      since = now.step ?? since;
      if (now.state !== "running") {
        this.job = null;
        this.searching = false;
      }
      this.#take(now);
    }
    const best = this.now?.lays?.[0];
    if (!this.closed && best) say(`${sentence(best.title)}: buy ${best.buy_shown}.`);
  }

  /** @param {any} now */
  #take(now) {
    this.now = { ...now, lays: now.lays?.length ? now.lays : (this.now?.lays ?? []) };
    this.chosen = Math.min(this.chosen, Math.max(0, this.now.lays.length - 1));
    const lay = this.now.lays[this.chosen];
    if (lay) this.lay.draw(lay.drawing);
    this.#showWords();
    this.#showReport();
  }

  /** A piece was put somewhere by hand: the rest adapts. @param {any} piece @param {[number, number]} at */
  #put(piece, at) {
    const mine = { piece: piece.piece, copy: piece.copy, x: at[0], y: at[1], turn: piece.turn, title: piece.title };
    this.held = [...this.held.filter((one) => one.piece !== mine.piece || one.copy !== mine.copy), mine];
    say(`${piece.title} is held where you put it; the rest adapts.`);
    this.#search(QUICK);
  }

  #showWords() {
    const layers = this.view.layers ?? [];
    const current = layers.find((/** @type {any} */ one) => one.layer === this.layer);
    show(
      this.words,
      el("div.row.layers-of-cloth", { role: "group", "aria-label": "Cloth" }, layers.map((/** @type {any} */ one) => this.#layerButton(one))),
      current && cloth(current),
      this.#ways(),
      this.#progress(),
      el("h2", "Lays found"),
      this.#lays(),
      this.held.length > 0 && this.#heldList(),
      this.view.answers === true && this.#answersPart(),
    );
  }

  /** @param {any} one */
  #layerButton(one) {
    const choose = () => {
      this.layer = one.layer;
      this.held = [];
      this.now = null;
      this.answers = null;
      this.#search(QUICK);
      this.#showWords();
    };
    return el("button.plain", { type: "button", "data-key": one.layer, "aria-pressed": one.layer === this.layer ? "true" : "false", onclick: choose }, one.title ?? one.layer);
  }

  #ways() {
    const ways = this.view.ways ?? [];
    if (ways.length === 0) return null;
    const options = ways.map((/** @type {any} */ way) => el("option", { value: way.id }, way.title));
    const best = ways.some((/** @type {any} */ way) => way.id === "");
    return el(
      "div.number.wide",
      { "data-key": "ways" },
      el("label", { for: "way" }, "how the cloth lies"),
      el("select", { id: "way", value: this.way, onchange: (/** @type {any} */ event) => ((this.way = event.target.value), this.#search(QUICK)) }, !best && el("option", { value: "" }, "try all ways"), options),
    );
  }

  #progress() {
    if (!this.searching)
      return el(
        "div.row",
        { "data-key": "search" },
        el("button", { type: "button", onclick: () => ((this.seed += 1), this.#search(LONG)) }, "Look for a shorter lay"),
        el("span.quiet", `half a minute; can be stopped`),
      );
    const { elapsed, length_shown: length, density_shown: density } = this.now ?? {};
    const seconds = typeof elapsed === "number" ? `${Math.round(elapsed)} s` : (elapsed ?? "");
    return el(
      "div.row.running",
      { "data-key": "search" },
      el("button", { type: "button", onclick: () => this.job && post("lay/stop", { job: this.job }).catch((fault) => this.desk.trouble(fault)) }, "Stop and keep the best"),
      el("span", `looking … ${seconds}${length ? `, ${length} so far` : ""}${density ? `, ${density}` : ""}`),
    );
  }

  #lays() {
    const lays = this.now?.lays ?? [];
    if (lays.length === 0) return el("p.quiet", "None yet.");
    return el(
      "ul.lays",
      lays.map((/** @type {any} */ lay, /** @type {number} */ index) =>
        el(
          "li",
          { "data-key": lay.way ?? String(index) },
          el(
            "button.line",
            { type: "button", "aria-pressed": index === this.chosen ? "true" : "false", onclick: () => ((this.chosen = index), this.#take(this.now)) },
            el("span.seam", sentence(lay.title)),
            el("b.buy", `buy ${lay.buy_shown}`),
            el("span.figures-of-seam", [lay.length_shown && `lies on ${lay.length_shown}`, lay.cost_shown, lay.waste_shown && `${lay.waste_shown} over`].filter(Boolean).join(" · ")),
          ),
        ),
      ),
    );
  }

  #heldList() {
    const release = (/** @type {any} */ one) => {
      this.held = this.held.filter((other) => other !== one);
      this.#search(QUICK);
    };
    return el(
      "section.held",
      { "data-key": "held" },
      el("h3", "Held by you"),
      el("ul", this.held.map((one) => el("li", `${one.title ?? one.piece} `, el("button.plain", { type: "button", "aria-label": `Let go of ${one.title ?? one.piece}`, onclick: () => release(one) }, "let go")))),
    );
  }

  #answersPart() {
    const ask = async () => {
      try {
        const { job } = await post("lay/answers", { name: this.desk.name, layer: this.layer });
        /** @type {any} */
        let now = { state: "running" };
        while (!this.closed && now.state === "running") {
          now = await get("lay/now", { job, since: now.step ?? 0 });
          this.asking = now.words || "working it out …";
          if (!this.closed) this.#showWords();
        }
        this.asking = "";
        this.answers = now;
        if (!this.closed) this.#showWords();
      } catch (fault) {
        this.asking = "";
        this.desk.trouble(fault);
      }
    };
    const lines = [...(this.answers?.savings ?? []), ...(this.answers?.answers ?? []), ...(this.answers?.said ?? [])];
    return el(
      "section.answers",
      { "data-key": "answers" },
      el("h2", "What would save cloth"),
      lines.length > 0 && el("ul.plain-list", lines.map((line) => el("li", line.words ?? String(line)))),
      this.answers && lines.length === 0 && el("p.quiet", "Nothing was found that would."),
      this.asking && el("p.quiet", this.asking),
      !this.answers && !this.asking && el("div.row", el("button.plain", { type: "button", onclick: ask }, "Work it out")),
    );
  }

  #showReport() {
    const lay = this.now?.lays?.[this.chosen];
    const problem = this.now?.problem;
    if (!lay && !problem) return;
    const sentences = [lay?.words ?? []].flat();
    show(
      this.report,
      problem && el("p.odd", problem.message ?? String(problem), " ", problem.next),
      sentences.map((words) => el("p", words)),
      lay?.bounds?.length > 0 && el("details", { "data-key": "bounds" }, el("summary", "Why it cannot be much shorter"), el("ul.plain-list", lay.bounds.map((/** @type {string} */ one) => el("li", one)))),
      lay?.order?.length > 0 && el("details", { "data-key": "order" }, el("summary", "In which order to cut"), el("ol.how-to", lay.order.map((/** @type {string} */ one) => el("li", one)))),
      el("p.care", "Blades and shears cut: keep fingers off the line, close them when they are laid down."),
    );
  }
}

/** @param {string} words */
function sentence(words) {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** @param {any} current */
function cloth(current) {
  const { title, words } = current.cloth ?? {};
  const says = [title, words].filter(Boolean).join(", ");
  const count = (current.pieces ?? []).length;
  return el("p.cloth", { "data-key": "cloth" }, says, count > 0 && ` · ${count} ${count === 1 ? "piece" : "pieces"}`);
}
