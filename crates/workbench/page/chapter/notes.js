// Notes: what was seen on a mock-up, in wear, at the machine; dated, and about a body, a block or a garment at one of its revisions.

import { get } from "../ask.js";
import { el, show, touched } from "../dom.js";
import { spread } from "../spread.js";

/** @typedef {import("../desk.js").Desk} Desk */

/**
 * @param {Desk} desk
 * @param {HTMLElement} place
 * @returns {import("../desk.js").OpenChapter}
 */
export function openNotes(desk, place) {
  const { words } = spread(place, "Notes", {});
  const load = async () => {
    const view = await get("notes", { name: desk.name });
    desk.shows({ name: desk.name, revision: desk.document(desk.name)?.revision, ...pick(view) });
    show(words, form(desk, load), list(desk, view.notes ?? []));
  };
  return { load };
}

/** @param {any} view */
function pick({ can_undo, can_redo }) {
  return { can_undo, can_redo };
}

/** @param {Desk} desk @param {() => Promise<void>} load */
function form(desk, load) {
  const about = [desk.name, desk.blockName(), desk.bodyName()].filter((name, index, all) => name && all.indexOf(name) === index);
  /** @param {SubmitEvent} event */
  const keep = async (event) => {
    event.preventDefault();
    const form = /** @type {HTMLFormElement} */ (event.target);
    const data = new FormData(form);
    const name = String(data.get("about"));
    const note = { about: { name, revision: desk.document(name)?.revision }, date: String(data.get("date")), words: String(data.get("words")).trim() };
    if (!note.words) return;
    if (await desk.keep("notes", () => note, "The note is kept.")) {
      form.reset();
      form.querySelectorAll("textarea").forEach((field) => delete field.dataset.touched);
      await load();
    }
  };
  return el(
    "form.note-form",
    { onsubmit: keep, "data-key": "form" },
    el("label", { for: "note-words" }, "What did you see, or what would you do differently?"),
    el("textarea", { id: "note-words", name: "words", rows: 4, required: true, oninput: touched, maxlength: 4000 }),
    el(
      "div.row",
      el("label", { for: "note-about" }, "about"),
      el("select", { id: "note-about", name: "about" }, about.map((name) => el("option", { value: name }, desk.document(name)?.title ?? name))),
      el("label", { for: "note-date" }, "on"),
      el("input", { id: "note-date", name: "date", type: "date", required: true, value: today() }),
      el("button", { type: "submit" }, "Keep this note"),
    ),
  );
}

/** @param {Desk} desk @param {any[]} notes */
function list(desk, notes) {
  if (notes.length === 0) return el("p.quiet", { "data-key": "list" }, "No notes yet. The best ones come after a mock-up and after a few wears.");
  return el(
    "ol.dated",
    { "data-key": "list" },
    notes.map((note) =>
      el(
        "li",
        { "data-key": String(note.id) },
        el("p.when", el("time", { datetime: note.date }, note.date_shown ?? note.date), ` · ${desk.document(note.about?.name)?.title ?? note.about?.name ?? ""}${note.about?.revision ? `, revision ${note.about.revision}` : ""}`, note.stale && el("em", " (it has changed since)")),
        el("p.words-of-note", note.words),
      ),
    ),
  );
}

/** The day on this machine's calendar, as a date field wants it. */
function today() {
  const now = new Date();
  const two = (/** @type {number} */ value) => String(value).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
