// Lines that go and lines that come, told by sign, word and colour.

import { el } from "./dom.js";

/** @typedef {import("./types.js").ChangedLine} ChangedLine */

const WORDS = /** @type {Record<string, string>} */ ({ "-": "goes", "+": "comes", " ": "stays" });

/**
 * @param {ChangedLine[]} lines
 * @param {string} label
 */
export function difference(lines, label) {
  return el(
    "ul.difference",
    { "aria-label": label },
    lines.map(({ sign, line }) =>
      el(
        `li.${sign === "-" ? "goes" : sign === "+" ? "comes" : "stays"}`,
        el("span.sign", { "aria-hidden": "true" }, sign),
        el("span.unseen", `${WORDS[sign] ?? ""}: `),
        el("code", line),
      ),
    ),
  );
}
