// Numbers of a style as fields to be typed into, in groups.

import { el, touched } from "./dom.js";

/** @typedef {import("./types.js").StyleNumber} StyleNumber */
/** @typedef {(number: StyleNumber, written: string) => void} Keep */

/**
 * One number: a field, or a list where there is a choice.
 * @param {StyleNumber} number
 * @param {Keep} keep
 */
export function numberField(number, keep) {
  const id = `number-${number.id}`;
  const field = number.choices?.length ? choice(number, id, keep) : text(number, id, keep);
  return el(
    `div.number${number.written ? "" : ".usual"}`,
    { "data-key": number.id },
    el("label", { for: id }, number.label),
    field,
    !number.written && el("span.as-usual", { id: `${id}-usual` }, "as usual"),
  );
}

/**
 * @param {StyleNumber} number
 * @param {string} id
 * @param {Keep} keep
 */
function choice(number, id, keep) {
  const choices = number.choices ?? [];
  const all = choices.includes(number.shown) ? choices : [number.shown, ...choices];
  return el(
    "select",
    { id, value: number.shown, onchange: (/** @type {any} */ event) => keep(number, event.target.value) },
    all.map((word) => el("option", { value: word }, word || "none")),
  );
}

/**
 * @param {StyleNumber} number
 * @param {string} id
 * @param {Keep} keep
 */
function text(number, id, keep) {
  const done = (/** @type {any} */ event) => {
    const field = event.target;
    delete field.dataset.touched;
    if (field.value.trim() !== number.shown) keep(number, field.value.trim());
  };
  return el("input", {
    id,
    value: number.shown,
    autocomplete: "off",
    spellcheck: "false",
    title: number.bounds || null,
    placeholder: number.shown === "" ? "as it follows" : null,
    "aria-describedby": number.written ? null : `${id}-usual`,
    oninput: touched,
    onchange: done,
    onkeydown: (/** @type {KeyboardEvent} */ event) => {
      if (event.key !== "Escape") return;
      const field = /** @type {HTMLInputElement} */ (event.target);
      field.value = number.shown;
      delete field.dataset.touched;
    },
  });
}

/**
 * All numbers in their groups; those that stand as usual are folded away under their group.
 * @param {StyleNumber[]} numbers
 * @param {Keep} keep
 */
export function numberGroups(numbers, keep) {
  /** @type {Map<string, StyleNumber[]>} */
  const groups = new Map();
  for (const number of numbers) groups.set(number.group, [...(groups.get(number.group) ?? []), number]);
  return [...groups].map(([title, members]) => {
    const written = members.filter((number) => number.written);
    const usual = members.filter((number) => !number.written);
    return el(
      "section.group",
      { "data-key": title },
      el("h3", title),
      written.map((number) => numberField(number, keep)),
      usual.length > 0 && folded(title, usual, keep),
    );
  });
}

/**
 * @param {string} title
 * @param {StyleNumber[]} usual
 * @param {Keep} keep
 */
function folded(title, usual, keep) {
  const words = usual.length === 1 ? "1 more, as usual" : `${usual.length} more, as usual`;
  return el(
    "details.usuals",
    { "data-key": "usual" },
    el("summary", { "aria-label": `${title}: ${words}` }, words),
    usual.map((number) => numberField(number, keep)),
  );
}
