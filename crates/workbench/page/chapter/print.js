// Print: which printer and paper, how the pattern falls on the sheets, and the files to take away.

import { file, get } from "../ask.js";
import { el, show, svg } from "../dom.js";
import { patiently, say } from "../say.js";
import { spread } from "../spread.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @returns {import("../desk.js").OpenChapter}
 */
export function openPrint(desk, place) {
  return new Print(desk, place);
}

class Print {
  /**
   * @param {Desk} desk
   * @param {HTMLElement} place
   */
  constructor(desk, place) {
    this.desk = desk;
    this.closed = false;
    this.paper = localStorage.getItem("notchbook-paper") ?? "a4";
    this.page = 0;
    /** @type {any} */
    this.view = null;
    /** @type {string[]} */
    this.blobs = [];
    this.map = el("div.page-map");
    this.preview = el("div.preview");
    this.words = spread(place, "Print", { sheet: el("div.papers", this.map, this.preview) }).words;
  }

  async load() {
    const view = await get("print", { name: this.desk.name, paper: this.paper });
    if (this.closed) return;
    this.view = view;
    this.desk.shows(view);
    this.page = 0;
    this.#showWords();
    this.#showMap();
    await this.#showPage(view.map?.pages?.[0]?.number ?? 1);
  }

  close() {
    this.closed = true;
    this.blobs.forEach((address) => URL.revokeObjectURL(address));
  }

  #showWords() {
    const { papers = [], words, files = [], sheets } = this.view;
    const choose = async (/** @type {any} */ event) => {
      this.paper = event.target.value;
      localStorage.setItem("notchbook-paper", this.paper);
      try {
        await patiently(this.load());
        say(`${this.view.words ?? ""}`);
      } catch (fault) {
        this.desk.trouble(fault);
      }
    };
    show(
      this.words,
      el("div.number.wide", el("label", { for: "paper" }, "Paper"), el("select", { id: "paper", value: this.paper, onchange: choose }, papers.map((/** @type {any} */ one) => el("option", { value: one.name }, one.title ?? one.name)))),
      el("p.sheets", words ?? (sheets && `${sheets} sheets`)),
      el("ol.how-to", el("li", "Print the first page at 100 %, without “fit to page”, and measure its squares with your tape."), el("li", "Only when they are right, print the rest."), el("li", "Join the sheets by their letters; cut on the solid line.")),
      el("h2", "Take away"),
      el("ul.files", files.map((/** @type {any} */ one) => this.#file(one))),
    );
  }

  /** @param {any} one */
  #file(one) {
    const take = async () => {
      try {
        const blob = await patiently(file("print/file", { name: this.desk.name, paper: this.paper, file: one.name }));
        const address = URL.createObjectURL(blob);
        const link = el("a", { href: address, download: one.name });
        link.click();
        setTimeout(() => URL.revokeObjectURL(address), 60_000);
        say(`${one.name} was given to the browser to keep.`);
      } catch (fault) {
        this.desk.trouble(fault);
      }
    };
    return el("li", { "data-key": one.name }, el("button.plain", { type: "button", onclick: take, "aria-label": `Download ${one.name}` }, one.name), el("span.about", `${one.about ?? ""}${one.bytes ? ` · ${sizeOf(one.bytes)}` : ""}`));
  }

  #showMap() {
    const pages = this.view.map?.pages ?? [];
    const boxes = pages.filter((/** @type {any} */ page) => page.box);
    if (boxes.length === 0) return show(this.map);
    const left = Math.min(...boxes.map((/** @type {any} */ page) => page.box[0]));
    const top = Math.min(...boxes.map((/** @type {any} */ page) => page.box[1]));
    const right = Math.max(...boxes.map((/** @type {any} */ page) => page.box[0] + page.box[2]));
    const bottom = Math.max(...boxes.map((/** @type {any} */ page) => page.box[1] + page.box[3]));
    show(
      this.map,
      el("h2", "How the sheets join"),
      svg(
        "svg",
        { class: "map", viewBox: `${left - 4} ${top - 4} ${right - left + 8} ${bottom - top + 8}`, role: "group", "aria-label": "Map of the sheets; press one to see it" },
        (this.view.map.outlines ?? []).map((/** @type {any} */ one) => svg("path", { d: one.d ?? one, class: "line cutting", "vector-effect": "non-scaling-stroke", "aria-hidden": "true" })),
        boxes.map((/** @type {any} */ page) => this.#tile(page)),
      ),
    );
  }

  /** @param {any} page */
  #tile(page) {
    const [x, y, width, height] = page.box;
    const label = page.page ?? String(page.number);
    const press = () => this.#showPage(page.number).catch((fault) => this.desk.trouble(fault));
    return svg(
      "g",
      {
        class: "tile",
        "data-page": page.number,
        role: "button",
        tabindex: 0,
        "aria-label": page.words ?? `Sheet ${label}`,
        onclick: press,
        onkeydown: (/** @type {KeyboardEvent} */ event) => {
          // No value is given back: a handler that answers false would swallow the Tab key.
          if (event.key !== "Enter" && event.key !== " ") return;
          event.preventDefault();
          press();
        },
      },
      svg("rect", { x, y, width, height, "vector-effect": "non-scaling-stroke" }),
      svg("text", { x: x + width / 2, y: y + height / 2, "font-size": Math.min(width, height) * 0.28, "text-anchor": "middle", "dominant-baseline": "central" }, label),
    );
  }

  /** @param {number} number */
  async #showPage(number) {
    this.page = number;
    for (const tile of this.map.querySelectorAll(".tile")) tile.classList.toggle("here", tile.dataset.page === String(number));
    const blob = await file("print/page", { name: this.desk.name, paper: this.paper, page: number });
    if (this.closed || this.page !== number) return;
    const address = URL.createObjectURL(blob);
    this.blobs.push(address);
    const pages = this.view.map?.pages ?? [];
    const all = this.view.pages ?? pages.length;
    const page = pages.find((/** @type {any} */ one) => one.number === number);
    const turn = (/** @type {number} */ by, /** @type {string} */ words) =>
      el("button.plain", { type: "button", disabled: number + by < 1 || number + by > all, onclick: () => this.#showPage(number + by).catch((fault) => this.desk.trouble(fault)) }, words);
    show(
      this.preview,
      el("figure", el("img", { src: address, alt: `${page?.words ?? `Page ${number}`}, as it will be printed` }), el("figcaption", turn(-1, "page before"), ` page ${number} of ${all} `, turn(1, "next page"))),
    );
  }
}

/** @param {number} bytes */
function sizeOf(bytes) {
  return bytes < 1_000_000 ? `${Math.max(1, Math.round(bytes / 1000))} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
