// The desk: which book is open, which garment lies on it, which chapter is read; what was kept, and what another window did meanwhile.

import { get, post, Problem } from "./ask.js";
import { patiently, say, sayProblem } from "./say.js";
import { clearNotice, tellStale } from "./stale.js";

/**
 * @typedef {object} BookDocument
 * @property {string} name
 * @property {string} kind
 * @property {string} title
 * @property {number} revision
 * @property {string} time
 * @property {string} [body]
 * @property {string[]} [stands_on]
 */

/** @typedef {{path: string, last: number, empty: boolean, documents: BookDocument[], papers: {name: string, title: string}[]}} Book */

/** @typedef {{load: () => Promise<void>, close?: () => void}} OpenChapter */

/** How often another window's work is looked for, ms. */
const LOOK = 2000;

/** What is open. */
export class Desk {
  /** @param {() => void} changed called when spine or chapter have to be drawn anew */
  constructor(changed) {
    this.changed = changed;
    /** @type {Book} */
    this.book = { path: "", last: 0, empty: true, documents: [], papers: [] };
    this.chapter = "begin";
    this.name = "";
    /** The document that undo speaks of, as its chapter last saw it. @type {any} */
    this.view = null;
    /** @type {OpenChapter | null} */
    this.open = null;
    /** The revision of each document that this window has seen last; an edit is made on it. @type {Map<string, number>} */
    this.seen = new Map();
    /** Edits wait for each other, so that a fast hand never meets its own work as another's. @type {Promise<unknown>} */
    this.line = Promise.resolve();
  }

  /** Reads the list of documents again. */
  async readBook() {
    this.book = await get("book");
    if (!this.document(this.name)) this.name = this.firstGarment();
  }

  /** @param {string} name */
  document(name) {
    return this.book.documents.find((one) => one.name === name);
  }

  garments() {
    return this.book.documents.filter((one) => one.kind === "garment" || one.kind === "block");
  }

  /** The garment with which a book is opened: one that is worn, where there is any. */
  firstGarment() {
    const all = this.garments();
    return (all.find((one) => one.kind === "garment") ?? all[0])?.name ?? "";
  }

  /** The body on which the garment on the desk stands, or the first one there is. */
  bodyName() {
    const bodies = this.book.documents.filter((one) => one.kind === "body");
    const asked = this.document(this.name);
    const own = bodies.find((one) => one.name === asked?.body || asked?.stands_on?.includes(one.name));
    return (own ?? bodies[0])?.name ?? "";
  }

  /** The block on which the garment stands, if it stands on one that is in the book. */
  blockName() {
    const asked = this.document(this.name);
    if (!asked) return "";
    if (asked.kind === "block") return asked.name;
    const below = asked.stands_on?.find((name) => ["block", "garment"].includes(this.document(name)?.kind ?? ""));
    // A garment that stands on none may still have a block for the same body beside it.
    const beside = () => this.book.documents.find((one) => one.kind === "block" && one.body && one.body === asked.body)?.name;
    return below ?? beside() ?? "";
  }

  /**
   * Opens a chapter.
   * @param {string} chapter
   * @param {string} [name]
   */
  go(chapter, name = this.name) {
    const hash = `#${chapter}${name ? `/${encodeURIComponent(name)}` : ""}`;
    if (location.hash === hash) this.changed();
    else location.hash = hash;
  }

  /**
   * Takes a view that the chapter shows: undo and redo follow its document.
   * @param {any} view
   */
  shows(view) {
    this.view = view;
    if (view?.revision) this.seen.set(view.name, view.revision);
    const known = this.document(view?.name);
    if (known && view.revision) known.revision = Math.max(known.revision, view.revision);
    this.drawSpine();
  }

  /** Draws the spine anew; set by the page. */
  drawSpine() {}

  /**
   * Does something that is kept, and says so. Answers null where it could not be done.
   * @param {string} path
   * @param {() => Record<string, any>} body made when its turn comes; gets the revision that was seen last
   * @param {string} [words] what to say if the server says nothing
   * @param {(view: any) => void} [shown] shows what came of it, before the next edit has its turn
   * @returns {Promise<any>}
   */
  keep(path, body, words = "Kept.", shown = () => {}) {
    const turn = this.line.then(() => this.#keepNow(path, body(), words, shown));
    this.line = turn;
    return turn;
  }

  /**
   * @param {string} path
   * @param {Record<string, any>} body
   * @param {string} words
   * @param {(view: any) => void} shown
   */
  async #keepNow(path, body, words, shown) {
    try {
      const on = body.name === undefined ? undefined : this.seen.get(body.name);
      const view = await patiently(post(path, { on, ...body }));
      clearNotice();
      say(view.said ?? words);
      if (view.name && view.revision) this.seen.set(view.name, view.revision);
      shown(view);
      this.#caughtUp();
      return view;
    } catch (fault) {
      this.trouble(fault);
      return null;
    }
  }

  /** Our own writing is no news. */
  async #caughtUp() {
    try {
      await this.readBook();
      this.drawSpine();
    } catch (fault) {
      sayProblem(fault);
    }
  }

  /**
   * Tells what went wrong; a stale edit is shown with what changed meanwhile.
   * @param {unknown} fault
   */
  trouble(fault) {
    if (fault instanceof Problem && fault.code === "stale") {
      tellStale({ own: true, difference: fault.body.difference ?? fault.body.problem?.difference ?? [] }, () => this.reload());
      say("Not kept: another window changed this meanwhile. The difference is shown above.");
    } else sayProblem(fault);
  }

  /** Loads the chapter again. */
  async reload() {
    clearNotice();
    try {
      await this.readBook();
      await this.open?.load();
      this.drawSpine();
      say("This is the newest now.");
    } catch (fault) {
      sayProblem(fault);
    }
  }

  /** @param {"undo" | "redo"} which */
  async turn(which) {
    const words = which === "undo" ? this.view?.can_undo : this.view?.can_redo;
    if (!words) {
      say(which === "undo" ? "There is nothing to undo." : "There is nothing to redo.");
      return;
    }
    const view = await this.keep(which, () => ({ name: this.view.name }), typeof words === "string" ? `${words}: done.` : "Done.");
    if (view) await this.open?.load();
  }

  /** Looks for the work of other windows while this one is seen. */
  watch() {
    setInterval(() => {
      if (document.visibilityState === "visible") this.#look();
    }, LOOK);
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") this.#look();
    });
  }

  async #look() {
    try {
      const { last } = await get("last");
      if (last === this.book.last) return;
      const before = this.view;
      await this.readBook();
      this.drawSpine();
      const now = before && this.document(before.name);
      if (!now || now.revision === before.revision || this.view !== before) return;
      const told = await get("difference", { name: before.name, from: before.revision }).catch(() => ({ difference: [] }));
      if (this.view !== before) return;
      tellStale({ own: false, ...told }, () => this.reload());
      say("Another window has changed what is open here.");
    } catch (fault) {
      sayProblem(fault);
    }
  }
}
