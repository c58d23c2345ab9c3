// The notice that another window has kept something newer, with the lines that differ.

import { el, show } from "./dom.js";
import { difference } from "./difference.js";

function place() {
  return /** @type {HTMLElement} */ (document.getElementById("notice"));
}

/** Takes the notice away. */
export function clearNotice() {
  place().hidden = true;
  show(place());
}

/**
 * @param {{own: boolean, difference: import("./types.js").ChangedLine[], reason?: string}} what `own`: an edit of this window was refused
 * @param {() => void} reload
 */
export function tellStale({ own, difference: lines, reason }, reload) {
  const words = own
    ? "Another window changed this document after you opened it, so your last change was not kept; nothing of the other window's was lost."
    : `Another window has kept something newer${reason ? `: “${reason}”` : ""}.`;
  show(
    place(),
    el("p", el("strong", words)),
    lines.length > 0 && difference(lines, "What the other window changed"),
    el(
      "div.row",
      el("button", { type: "button", onclick: reload }, "Show the newest"),
      el("button.plain", { type: "button", onclick: clearNotice }, "Leave it for now"),
    ),
  );
  place().hidden = false;
}
