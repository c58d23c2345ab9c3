// Elements from words, and a tree brought up to date without taking the cursor out of anybody's hand.
//
// A view is built whole with `el` and laid over the one on the page with `morph`: what is the same stays, so that focus,
// scroll and half-typed words are kept. Knows nothing of garments.

const SVG = "http://www.w3.org/2000/svg";

/** Names of the handlers that `morph` carries over. */
const HANDLERS = /** @type {const} */ ([
  "onclick", "onchange", "oninput", "onkeydown", "onkeyup", "onfocus", "onblur", "onsubmit",
  "onpointerdown", "onpointermove", "onpointerup", "onpointercancel", "onpointerenter", "onpointerleave",
  "ondragstart", "ondragover", "ondrop", "ondragend", "ontoggle",
]);

/**
 * @typedef {Node | string | number | null | undefined | false | Some[]} Child
 */

/**
 * Children in lists in lists.
 * @typedef {any} Some
 */

/**
 * Sets attributes (strings, numbers, `true`), handlers (`onclick`) and properties (`value`, `checked`) on an element.
 * @template {Element} E
 * @param {E} node
 * @param {Record<string, any>} attributes
 * @returns {E}
 */
function dress(node, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") Reflect.set(node, name, value);
    else if (name === "value" || name === "checked" || name === "selected") {
      Reflect.set(node, name, value);
      if (name !== "value") node.toggleAttribute(name, true);
    } else node.setAttribute(name, value === true ? "" : String(value));
  }
  return node;
}

/**
 * @param {Element} node
 * @param {Child[]} children
 */
function fill(node, children) {
  for (const child of children) {
    if (Array.isArray(child)) fill(node, child);
    else if (child instanceof Node) node.append(child);
    else if (child !== null && child !== undefined && child !== false) node.append(String(child));
  }
}

/**
 * An HTML element: `el("p.note", {id: "x"}, "words")`. The part after the dots is the class.
 * @param {string} kind
 * @param {Record<string, any> | Child} [attributes]
 * @param {...Child} children
 * @returns {any}
 */
export function el(kind, attributes, ...children) {
  const [tag, ...classes] = kind.split(".");
  const node = document.createElement(tag);
  if (classes.length) node.className = classes.join(" ");
  if (plain(attributes)) {
    // The value of a select can only be set once its options are there.
    const { value, ...rest } = /** @type {Record<string, any>} */ (attributes);
    dress(node, rest);
    fill(node, children);
    if (value !== undefined && value !== null) Reflect.set(node, "value", value);
  } else fill(node, [attributes, ...children]);
  return node;
}

/**
 * An SVG element.
 * @param {string} tag
 * @param {Record<string, any>} attributes
 * @param {...Child} children
 * @returns {any}
 */
export function svg(tag, attributes, ...children) {
  const node = dress(document.createElementNS(SVG, tag), attributes);
  fill(node, children);
  return node;
}

/**
 * @param {any} value
 * @returns {value is Record<string, any>}
 */
function plain(value) {
  return value !== null && typeof value === "object" && Object.getPrototypeOf(value) === Object.prototype;
}

/**
 * Makes `now` look like `next`, keeping every element that can stay. Children are matched by `data-key` where they have one,
 * by place and tag otherwise. The field under the cursor keeps what is typed in it.
 * @param {Element} now
 * @param {Element} next
 */
export function morph(now, next) {
  if (now.hasAttribute("data-keep") && next.hasAttribute("data-keep")) return;
  attributes(now, next);
  for (const name of HANDLERS) Reflect.set(now, name, Reflect.get(next, name) ?? null);
  children(now, next);
  values(now, next);
}

/**
 * @param {Element} now
 * @param {Element} next
 */
function attributes(now, next) {
  for (const { name } of [...now.attributes]) {
    // `open` of a fold-out belongs to the person who opened it, `data-touched` to the one who is typing.
    const theirs = (name === "open" && now instanceof HTMLDetailsElement) || name === "data-touched";
    if (!next.hasAttribute(name) && !theirs) now.removeAttribute(name);
  }
  for (const { name, value } of [...next.attributes]) {
    if (name === "open" && now instanceof HTMLDetailsElement) continue;
    if (now.getAttribute(name) !== value) now.setAttribute(name, value);
  }
}

/**
 * @param {Element} now
 * @param {Element} next
 */
function values(now, next) {
  if (!(now instanceof HTMLInputElement || now instanceof HTMLSelectElement || now instanceof HTMLTextAreaElement)) return;
  const held = now === document.activeElement && !(now instanceof HTMLSelectElement) && now.dataset.touched === "yes";
  const value = /** @type {HTMLInputElement} */ (next).value;
  if (!held && now.value !== value) now.value = value;
  if (now instanceof HTMLInputElement) now.checked = /** @type {HTMLInputElement} */ (next).checked;
}

/** @param {ChildNode} node */
function keyOf(node) {
  return node instanceof Element ? node.getAttribute("data-key") : null;
}

/**
 * @param {ChildNode} a
 * @param {ChildNode} b
 */
function alike(a, b) {
  return a.nodeType === b.nodeType && a.nodeName === b.nodeName && keyOf(a) === keyOf(b);
}

/**
 * @param {Element} now
 * @param {Element} next
 */
function children(now, next) {
  /** @type {Map<string, ChildNode>} */
  const keyed = new Map();
  for (const child of now.childNodes) {
    const key = keyOf(child);
    if (key !== null) keyed.set(key, child);
  }
  let here = now.firstChild;
  for (const wanted of [...next.childNodes]) {
    const key = keyOf(wanted);
    const found = key === null ? here : (keyed.get(key) ?? null);
    if (found && alike(found, wanted)) {
      if (found !== here) now.insertBefore(found, here);
      else here = found.nextSibling;
      if (found instanceof Element) morph(found, /** @type {Element} */ (wanted));
      else if (found.nodeValue !== wanted.nodeValue) found.nodeValue = wanted.nodeValue;
    } else {
      now.insertBefore(wanted, here);
    }
  }
  while (here) {
    const gone = here;
    here = here.nextSibling;
    gone.remove();
  }
}

/**
 * Lays a freshly built view over what stands in `place`.
 * @param {Element} place
 * @param {...Child} view
 */
export function show(place, ...view) {
  const next = /** @type {Element} */ (place.cloneNode(false));
  fill(next, view);
  children(place, next);
}

/**
 * Remembers that a field is being written in, so that a newer view does not take the words away.
 * @param {Event} event
 */
export function touched(event) {
  /** @type {HTMLElement} */ (event.target).dataset.touched = "yes";
}
