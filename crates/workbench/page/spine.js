// The spine at the head of the page: what lies on the desk, the chapters, undo and redo, units and light.

import { chooseLight, chooseUnits, light, units } from "./choices.js";
import { el, show } from "./dom.js";
import { chapters } from "./chapters.js";

/** @typedef {import("./desk.js").Desk} Desk */

/** @param {Desk} desk */
export function drawSpine(desk) {
  const place = /** @type {HTMLElement} */ (document.getElementById("spine"));
  show(place, el("div.top", onDesk(desk), kept(desk), turns(desk), choices(desk)), contents(desk));
}

/** @param {Desk} desk */
function onDesk(desk) {
  const garments = desk.garments();
  if (garments.length === 0) return el("p.name", "Notchbook");
  return el(
    "p.name",
    el("label.unseen", { for: "on-desk" }, "On the desk"),
    el(
      "select",
      {
        id: "on-desk",
        value: desk.name,
        onchange: (/** @type {any} */ event) => desk.go(desk.chapter === "begin" ? "style" : desk.chapter, event.target.value),
      },
      garments.map((one) => el("option", { value: one.name }, one.title || one.name)),
    ),
  );
}

/** @param {Desk} desk */
function kept(desk) {
  const view = desk.view;
  if (!view?.revision) return el("p.kept");
  return el("p.kept", `kept · revision ${view.revision}`);
}

/** @param {Desk} desk */
function turns(desk) {
  const view = desk.view;
  const button = (/** @type {"undo" | "redo"} */ which, /** @type {string} */ word, /** @type {any} */ what, /** @type {string} */ keys) => {
    // The server says “Undo: neck depth 95 mm”; without that the plain word stands.
    const words = typeof what === "string" && what ? what : word;
    return el(
      "button.turn",
      { type: "button", "data-key": which, "aria-disabled": what ? null : "true", "aria-keyshortcuts": keys, title: words, onclick: () => desk.turn(which) },
      el("span.arrow", { "aria-hidden": "true" }, which === "undo" ? "↶" : "↷"),
      " ",
      words === word ? word : el("span.what", words),
    );
  };
  return el("div.turns", button("undo", "Undo", view?.can_undo, "Control+Z"), button("redo", "Redo", view?.can_redo, "Control+Shift+Z"));
}

/** @param {Desk} desk */
function choices(desk) {
  return el(
    "div.choices",
    el("label.unseen", { for: "units" }, "Units"),
    el(
      "select",
      {
        id: "units",
        value: units(),
        onchange: (/** @type {any} */ event) => {
          chooseUnits(event.target.value);
          desk.reload();
        },
      },
      el("option", { value: "metric" }, "metric"),
      el("option", { value: "inch" }, "inches"),
    ),
    el("label.unseen", { for: "light" }, "Light or dark"),
    el(
      "select",
      { id: "light", value: light(), onchange: (/** @type {any} */ event) => chooseLight(event.target.value) },
      el("option", { value: "system" }, "as the system"),
      el("option", { value: "light" }, "light"),
      el("option", { value: "dark" }, "dark"),
    ),
  );
}

/** @param {Desk} desk */
function contents(desk) {
  const there = chapters.filter((chapter) => chapter.exists(desk));
  return el(
    "nav",
    { "aria-label": "Chapters" },
    el(
      "ul",
      there.map((chapter) => {
        const here = chapter.key === desk.chapter;
        const name = desk.name ? `/${encodeURIComponent(desk.name)}` : "";
        return el("li", { "data-key": chapter.key }, el("a", { href: `#${chapter.key}${name}`, "aria-current": here ? "page" : null }, chapter.title));
      }),
    ),
  );
}
