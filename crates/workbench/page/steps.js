// The steps of a style as a list that reads like a story: each can be changed, moved, muted, annotated or taken out.

import { el, touched } from "./dom.js";
import { numberField } from "./numbers.js";

/**
 * @typedef {object} Step
 * @property {number} index
 * @property {string} name
 * @property {string} words
 * @property {string} title
 * @property {boolean} muted
 * @property {string} [note]
 * @property {import("./types.js").StyleNumber[]} numbers
 * @property {boolean} own false where the step belongs to what this garment stands on
 * @property {string[]} moved
 */

/**
 * @typedef {object} StepKind
 * @property {string} name
 * @property {string} title
 * @property {string} group
 * @property {string} summary
 * @property {string} [example]
 * @property {{name: string, label: string, kind: string, summary: string, needed: boolean, default?: string | null, choices?: string[] | null}[]} parameters
 */

/** @typedef {(what: Record<string, any>) => void} Do what is to be done with a step, as the server is told */

/** @typedef {{act: Do, type: import("./numbers.js").Keep, light: (edges: string[]) => void}} Hands */

let dragged = -1;

/**
 * @param {Step[]} steps
 * @param {StepKind[]} kinds
 * @param {Hands} hands
 */
export function stepList(steps, kinds, { act, type, light }) {
  const own = steps.filter((step) => step.own);
  return [
    steps.length === 0 && el("p.quiet", "None yet. Steps change the pieces one after the other: move a dart, flare a hem, lower a waist."),
    steps.length > 0 &&
      el(
        "ol.steps",
        steps.map((step, place) => item(step, place, own, { act, type, light })),
      ),
    addStep(kinds, act),
  ];
}

/**
 * @param {Step} step
 * @param {number} place
 * @param {Step[]} own
 * @param {Hands} hands
 */
function item(step, place, own, { act, type, light }) {
  const drop = step.own && {
    ondragover: (/** @type {DragEvent} */ event) => event.preventDefault(),
    ondrop: (/** @type {DragEvent} */ event) => {
      event.preventDefault();
      if (dragged >= 0 && dragged !== step.index) act({ do: "move", index: dragged, to: step.index });
    },
  };
  return el(
    `li.step${step.muted ? ".muted" : ""}`,
    {
      "data-key": `${step.name}-${step.index}`,
      onpointerenter: () => light(step.moved ?? []),
      onpointerleave: () => light([]),
      ...drop,
    },
    step.own &&
      el(
        "span.grip",
        {
          draggable: "true",
          "aria-hidden": "true",
          title: "Drag to another place",
          ondragstart: () => (dragged = step.index),
          ondragend: () => (dragged = -1),
        },
        "⠿",
      ),
    el("p.title", el("span.unseen", `Step ${place + 1}: `), step.title || step.name, step.muted && el("em", " (muted)")),
    step.words && el("p.did", step.words),
    step.note && el("p.because", step.note),
    step.own ? change(step, own, act, type) : el("p.quiet", "from what this stands on"),
  );
}

/**
 * @param {Step} step
 * @param {Step[]} own
 * @param {Do} act
 * @param {import("./numbers.js").Keep} type
 */
function change(step, own, act, type) {
  const at = own.indexOf(step);
  const name = step.title || step.name;
  const move = (/** @type {number} */ by, /** @type {string} */ words) =>
    el(
      "button.plain",
      {
        type: "button",
        disabled: !own[at + by],
        "aria-label": `Move “${name}” ${words}`,
        "data-key": words,
        onclick: () => act({ do: "move", index: step.index, to: own[at + by].index }),
      },
      words,
    );
  return el(
    "details.change",
    { "data-key": "change" },
    el("summary", { "aria-label": `Change “${name}”` }, "change"),
    (step.numbers ?? []).map((number) => numberField(number, type)),
    noteField(step, act),
    el(
      "div.row",
      move(-1, "earlier"),
      move(1, "later"),
      el(
        "button.plain",
        { type: "button", onclick: () => act({ do: step.muted ? "unmute" : "mute", index: step.index }), "aria-label": `${step.muted ? "Let count again" : "Mute"}: ${name}` },
        step.muted ? "let it count again" : "mute",
      ),
      el("button.plain", { type: "button", onclick: () => act({ do: "remove", index: step.index }), "aria-label": `Take out: ${name}` }, "take out"),
    ),
  );
}

/**
 * @param {Step} step
 * @param {Do} act
 */
function noteField(step, act) {
  const id = `step-note-${step.index}`;
  return el(
    "div.number.wide",
    { "data-key": "note" },
    el("label", { for: id }, "why"),
    el("input", {
      id,
      value: step.note ?? "",
      oninput: touched,
      onchange: (/** @type {any} */ event) => {
        delete event.target.dataset.touched;
        act({ do: "note", index: step.index, note: event.target.value });
      },
    }),
  );
}

/**
 * @param {StepKind[]} kinds
 * @param {Do} act
 */
function addStep(kinds, act) {
  /** @type {Map<string, StepKind[]>} */
  const groups = new Map();
  for (const kind of kinds) groups.set(kind.group, [...(groups.get(kind.group) ?? []), kind]);
  const fields = el("div.fields", { "data-keep": true });
  const pick = (/** @type {string} */ name) => {
    const kind = kinds.find((one) => one.name === name);
    fields.replaceChildren(...(kind ? [form(kind, act)] : []));
  };
  return el(
    "details.add",
    { "data-key": "add-step" },
    el("summary", "Add a step"),
    el(
      "div.number.wide",
      el("label", { for: "new-step" }, "what to do"),
      el(
        "select",
        { id: "new-step", "data-keep": true, onchange: (/** @type {any} */ event) => pick(event.target.value) },
        el("option", { value: "" }, "choose …"),
        [...groups].map(([title, members]) =>
          el("optgroup", { label: title }, members.map((kind) => el("option", { value: kind.name }, kind.title || kind.name))),
        ),
      ),
    ),
    fields,
  );
}

/** @param {StepKind["parameters"][number]} parameter */
function aboutOf({ label, summary }) {
  return [...new Set([label, summary])].filter(Boolean).join(": ");
}

/**
 * @param {StepKind} kind
 * @param {Do} act
 */
function form(kind, act) {
  /** @param {SubmitEvent} event */
  const add = (event) => {
    event.preventDefault();
    const data = new FormData(/** @type {HTMLFormElement} */ (event.target));
    /** @type {Record<string, string>} */
    const fields = {};
    for (const { name } of kind.parameters) {
      const value = String(data.get(name) ?? "").trim();
      if (value) fields[name] = value;
    }
    act({ do: "add", step: kind.name, fields, note: String(data.get("note") ?? "").trim() || undefined });
  };
  return el(
    "form.new-step",
    { onsubmit: add, "aria-label": `Add the step ${kind.name}` },
    el("p.quiet", kind.summary),
    kind.example && el("p.quiet.example", "For example: ", el("code", kind.example)),
    kind.parameters.map((parameter) => {
      const id = `new-step-${parameter.name}`;
      const field = parameter.choices?.length
        ? el("select", { id, name: parameter.name }, el("option", { value: "" }, parameter.default ?? "—"), parameter.choices.map((word) => el("option", { value: word }, word)))
        : el("input", { id, name: parameter.name, required: parameter.needed, autocomplete: "off", placeholder: parameter.default ?? "", "aria-describedby": `${id}-about` });
      return el("div.number.wide", el("label", { for: id }, parameter.name), field, el("span.about", { id: `${id}-about` }, aboutOf(parameter)));
    }),
    el("div.number.wide", el("label", { for: "new-step-why" }, "why"), el("input", { id: "new-step-why", name: "note", autocomplete: "off" })),
    el("button", { type: "submit" }, "Add this step"),
  );
}
