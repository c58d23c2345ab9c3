// The book: at first how to begin, later what stands in it and how to begin something new.

import { el, show } from "../dom.js";
import { spread } from "../spread.js";

/** @typedef {import("../desk.js").Desk} Desk */

/** Kinds of document as a person calls them. */
const KINDS = /** @type {Record<string, string>} */ ({
  body: "Bodies",
  block: "Blocks",
  garment: "Garments",
  cloth: "Cloths",
  fitting: "Notes",
  work: "Work",
});

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @returns {import("../desk.js").OpenChapter}
 */
export function openBegin(desk, place) {
  const { words } = spread(place, desk.book.empty ? "An empty book" : "The book", {});
  return {
    async load() {
      show(words, desk.book.empty ? first(desk) : contents(desk));
      desk.shows(null);
    },
  };
}

/** @param {Desk} desk */
function first(desk) {
  return [
    el(
      "p.lead",
      "From a tape measure to a pattern that fits you. What you write here stays in one file on this machine; nothing of it is sent anywhere.",
    ),
    el(
      "div.ways",
      el(
        "section",
        el("h2", "Measure yourself"),
        el("p", "A tape, a mirror and a quarter of an hour. Each measure is looked at as you type it; those that you cannot take are estimated. The first block is there at once and grows better with every measure."),
        ownForm(desk),
      ),
      el(
        "section",
        el("h2", "Look round in the demo"),
        el("p", "An amateur cellist sews a black concert dress; there are a linen summer dress and a plain skirt as well. The bodies are invented. Change whatever you like: every step can be undone."),
        el("button", { type: "button", onclick: () => begin(desk, { how: "demo" }, "style") }, "Look round in the demo"),
      ),
    ),
  ];
}

/** @param {Desk} desk */
function ownForm(desk) {
  return el(
    "form",
    {
      onsubmit: (/** @type {SubmitEvent} */ event) => {
        event.preventDefault();
        const name = String(new FormData(/** @type {HTMLFormElement} */ (event.target)).get("name") ?? "").trim();
        begin(desk, { how: "own", name }, "body");
      },
    },
    el("div.number.wide", el("label", { for: "own-name" }, "Whose measures?"), el("input", { id: "own-name", name: "name", required: true, autocomplete: "off", placeholder: "a first name", maxlength: 60 })),
    el("button", { type: "submit" }, "Measure yourself"),
  );
}

/**
 * @param {Desk} desk
 * @param {Record<string, any>} how
 * @param {string} chapter
 */
async function begin(desk, how, chapter) {
  const book = await desk.keep("book/begin", () => how, "The book is begun.");
  if (!book) return;
  await desk.readBook();
  desk.go(chapter, desk.name);
}

/** @param {Desk} desk */
function contents(desk) {
  /** @type {Map<string, import("../desk.js").BookDocument[]>} */
  const kinds = new Map();
  for (const one of desk.book.documents) kinds.set(one.kind, [...(kinds.get(one.kind) ?? []), one]);
  const order = ["body", "block", "garment", "cloth", "fitting", "work"];
  return [
    el("p.quiet.path", desk.book.path),
    order
      .filter((kind) => kinds.has(kind))
      .map((kind) => el("section.kind", { "data-key": kind }, el("h2", KINDS[kind]), el("ul.documents", (kinds.get(kind) ?? []).map((one) => line(desk, one))))),
    el("section.new", { "data-key": "new" }, el("h2", "Begin something new"), garmentForm(desk), el("h3", "Another body"), ownForm(desk)),
  ];
}

/**
 * @param {Desk} desk
 * @param {import("../desk.js").BookDocument} one
 */
function line(desk, one) {
  const garment = one.kind === "garment" || one.kind === "block";
  const stands = desk.garments().find((other) => other.body === one.name || other.stands_on?.includes(one.name));
  const noted = one.kind === "fitting" && desk.garments().find((other) => one.stands_on?.includes(other.name));
  const href = noted ? `#notes/${encodeURIComponent(noted.name)}` : garment ? `#${one.kind === "block" ? "block" : "style"}/${encodeURIComponent(one.name)}` : one.kind === "body" && stands ? `#body/${encodeURIComponent(stands.name)}` : null;
  const stand = (one.stands_on ?? []).map((name) => desk.document(name)?.title ?? name).join(", ");
  return el(
    "li",
    { "data-key": one.name },
    href ? el("a", { href }, noted ? `On ${noted.title}` : one.title || one.name) : el("span.title", one.title || one.name),
    el("span.quiet", `revision ${one.revision}${stand ? ` · stands on ${stand}` : ""}`),
  );
}

/** @param {Desk} desk */
function garmentForm(desk) {
  const bodies = desk.book.documents.filter((one) => one.kind === "body");
  /** @param {SubmitEvent} event */
  const make = async (event) => {
    event.preventDefault();
    const data = new FormData(/** @type {HTMLFormElement} */ (event.target));
    const wish = { title: String(data.get("title")).trim(), body: String(data.get("body")), kind: String(data.get("kind")), from: String(data.get("from") || "") || undefined };
    const book = await desk.keep("book/garment", () => wish, `“${wish.title}” is begun.`);
    if (!book) return;
    await desk.readBook();
    desk.go(wish.kind === "block" ? "block" : "style", book.begun);
  };
  const pick = (/** @type {string} */ id, /** @type {string} */ label, /** @type {any} */ options) => el("div.number.wide", el("label", { for: `new-${id}` }, label), el("select", { id: `new-${id}`, name: id }, options));
  return el(
    "form.new-garment",
    { onsubmit: make },
    el("div.number.wide", el("label", { for: "new-title" }, "Name"), el("input", { id: "new-title", name: "title", required: true, autocomplete: "off", maxlength: 80 })),
    pick("kind", "What it is", [el("option", { value: "dress" }, "dress"), el("option", { value: "skirt" }, "skirt"), el("option", { value: "block" }, "block")]),
    pick("body", "For the body of", bodies.map((one) => el("option", { value: one.name }, one.title || one.name))),
    pick("from", "Stands on", [el("option", { value: "" }, "nothing: a new draft"), desk.garments().map((one) => el("option", { value: one.name }, one.title || one.name))]),
    el("button", { type: "submit" }, "Begin it"),
  );
}
