// A spread of the workbook: words on one side, the drawing on the other, its margin beside it.

import { el } from "./dom.js";

/**
 * Lays out the two sides; on a narrow page the drawing comes first.
 * @param {HTMLElement} place
 * @param {string} title
 * @param {{sheet?: HTMLElement | null, margin?: HTMLElement | null, foot?: HTMLElement | null}} sides
 * @returns {{words: HTMLElement}}
 */
export function spread(place, title, { sheet = null, margin = null, foot = null }) {
  const words = el("div.body-of-words");
  place.replaceChildren(el("section.words", { "aria-label": "Words" }, el("h1", title), words));
  if (sheet) place.append(el("section.table", { "aria-label": "Drawing" }, el("div.drawn", sheet, margin), foot));
  place.classList.toggle("alone", !sheet);
  return { words };
}

/**
 * A table of a few columns with a caption.
 * @param {string} caption
 * @param {string[]} heads
 * @param {(string | number | null | undefined)[][]} rows
 */
export function table(caption, heads, rows) {
  return el(
    "table",
    el("caption", caption),
    el("thead", el("tr", heads.map((head, index) => el(index === 0 ? "th" : "th.figure", { scope: "col" }, head)))),
    el(
      "tbody",
      rows.map((row) => el("tr", row.map((cell, index) => (index === 0 ? el("th", { scope: "row" }, cell) : el("td.figure", cell ?? ""))))),
    ),
  );
}
