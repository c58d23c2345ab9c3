// Where the page starts: takes the key, opens the book, and turns to the chapter that the address names.

import { takeKey } from "./ask.js";
import { applyLight } from "./choices.js";
import { chapters } from "./chapters.js";
import { Desk } from "./desk.js";
import { show } from "./dom.js";
import { patiently, sayProblem } from "./say.js";
import { drawSpine } from "./spine.js";
import { clearNotice } from "./stale.js";

applyLight();
takeKey();

const desk = new Desk(turnPage);
desk.drawSpine = () => drawSpine(desk);

/** What the address names: `#style/concert-dress.kdl`. */
function asked() {
  const [chapter, name = ""] = location.hash.slice(1).split("/");
  return { chapter, name: decodeURIComponent(name) };
}

/** Opens the chapter that the address names, or the first one that makes sense. */
async function turnPage() {
  const wish = asked();
  if (desk.garments().some((one) => one.name === wish.name)) desk.name = wish.name;
  const there = chapters.filter((chapter) => chapter.exists(desk));
  const chapter = there.find((one) => one.key === wish.chapter) ?? there.find((one) => one.key === "style") ?? there[0];
  desk.chapter = chapter.key;
  desk.view = null;
  desk.open?.close?.();
  clearNotice();
  const leaf = /** @type {HTMLElement} */ (document.getElementById("leaf"));
  const fresh = /** @type {HTMLElement} */ (leaf.cloneNode(false));
  fresh.className = `leaf ${chapter.key}`;
  fresh.dataset.state = "loading";
  leaf.replaceWith(fresh);
  document.title = `${chapter.title} · ${desk.document(desk.name)?.title ?? "Notchbook"}`;
  desk.open = chapter.open(desk, fresh);
  desk.drawSpine();
  try {
    await patiently(desk.open.load());
    fresh.dataset.state = "ready";
  } catch (fault) {
    fresh.dataset.state = "failed";
    sayProblem(fault);
  }
}

/** @param {KeyboardEvent} event */
function keys(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const field = event.target instanceof HTMLElement ? event.target : null;
  // Words that are being typed have an undo of their own.
  if (field?.dataset.touched === "yes") return;
  if (key === "z" && !event.shiftKey) desk.turn("undo");
  else if ((key === "z" && event.shiftKey) || key === "y") desk.turn("redo");
  else return;
  event.preventDefault();
}

async function start() {
  try {
    await patiently(desk.readBook());
    window.addEventListener("hashchange", turnPage);
    window.addEventListener("keydown", keys);
    await turnPage();
    desk.watch();
  } catch (fault) {
    const leaf = /** @type {HTMLElement} */ (document.getElementById("leaf"));
    show(leaf);
    sayProblem(fault);
  }
  document.documentElement.dataset.opened = "yes";
}

start();
