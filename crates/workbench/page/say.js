// The line at the foot of the page: what a change did, whether it is kept, what went wrong. Spoken politely by a screen reader.

import { Problem } from "./ask.js";
import { el, show } from "./dom.js";

/** How long a request may take before the page says that it works, ms. */
const PATIENCE = 100;

/** @returns {HTMLElement} */
function line() {
  return /** @type {HTMLElement} */ (document.getElementById("said"));
}

/**
 * Says what happened.
 * @param {string} words
 */
export function say(words) {
  line().classList.remove("wrong");
  show(line(), words);
}

/**
 * Says what could not be done, and what to do next.
 * @param {unknown} fault
 */
export function sayProblem(fault) {
  if (fault instanceof DOMException && fault.name === "AbortError") return;
  line().classList.add("wrong");
  if (fault instanceof Problem) show(line(), el("strong", fault.message), " ", fault.next);
  else {
    show(line(), el("strong", "The page made a mistake of its own."), " Load it again; what was kept is in the book.");
    console.error(fault);
  }
}

/**
 * Runs work; where it takes longer than a blink, the page says so.
 * @template T
 * @param {Promise<T>} work
 * @returns {Promise<T>}
 */
export async function patiently(work) {
  const busy = document.getElementById("busy");
  const late = setTimeout(() => busy?.classList.add("on"), PATIENCE);
  try {
    return await work;
  } finally {
    clearTimeout(late);
    busy?.classList.remove("on");
  }
}
