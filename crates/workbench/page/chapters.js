// The chapters in the order in which a garment comes to be, and when each is there.

import { openBegin } from "./chapter/begin.js";
import { openBody } from "./chapter/body.js";
import { openGarment } from "./chapter/garment.js";
import { openHistory } from "./chapter/history.js";
import { openLay } from "./chapter/lay.js";
import { openNotes } from "./chapter/notes.js";
import { openParts } from "./chapter/parts.js";
import { openPrint } from "./chapter/print.js";

/** @typedef {import("./desk.js").Desk} Desk */
/** @typedef {import("./desk.js").OpenChapter} OpenChapter */

/**
 * @typedef {object} Chapter
 * @property {string} key
 * @property {string} title
 * @property {(desk: Desk) => boolean} exists
 * @property {(desk: Desk, place: HTMLElement) => OpenChapter} open
 */

const garment = (/** @type {Desk} */ desk) => desk.name !== "";
const styled = (/** @type {Desk} */ desk) => garment(desk) && desk.document(desk.name)?.kind !== "block";

/** @type {Chapter[]} */
export const chapters = [
  { key: "begin", title: "The book", exists: () => true, open: openBegin },
  { key: "body", title: "Body", exists: (desk) => desk.bodyName() !== "", open: openBody },
  { key: "block", title: "Block", exists: (desk) => desk.blockName() !== "", open: (desk, place) => openGarment(desk, place, desk.blockName(), "block") },
  { key: "style", title: "Style", exists: styled, open: (desk, place) => openGarment(desk, place, desk.name, "style") },
  { key: "parts", title: "Parts", exists: garment, open: openParts },
  { key: "lay", title: "Cloth and lay", exists: garment, open: openLay },
  { key: "print", title: "Print", exists: garment, open: openPrint },
  { key: "notes", title: "Notes", exists: garment, open: openNotes },
  { key: "history", title: "History", exists: garment, open: openHistory },
];
