// The keyboard alone: every chapter is walked with Tab, nothing traps the hand, everything that can be pressed is reached, and where one
// is can always be seen. A point is moved with arrow keys, a number typed, a change taken back.
//
// Source: W3C, Web Content Accessibility Guidelines 2.2, success criteria 2.1.1, 2.1.2, 2.4.7 and 2.5.7.

import assert from "node:assert/strict";
import { newer, ready, revision } from "../workshop.mjs";
import { demo } from "./demo.mjs";

export const title = "the keyboard alone";

/** More stops than any chapter has. */
const STOPS = 600;

/** @param {{program: string, browser: import("playwright-core").Browser}} scene */
export async function tell(scene) {
  const seen = await demo(scene);
  const { page } = seen;
  try {
    const links = await page.locator("#spine nav a").evaluateAll((all) => all.map((one) => /** @type {HTMLAnchorElement} */ (one).hash));
    let stops = 0;
    for (const link of links) {
      await press(page, link);
      stops += await walk(page, link);
    }
    await press(page, links.find((link) => link.startsWith("#style")) ?? "");
    await movePoint(page);
    await typeNumber(page);
    await takeBack(page);
    assert.deepEqual(seen.mistakes, []);
    return [`${stops} stops of the Tab key in ${links.length} chapters`];
  } finally {
    await seen.close();
  }
}

/**
 * Turns to a chapter with Tab and Enter.
 * @param {import("playwright-core").Page} page
 * @param {string} hash
 */
async function press(page, hash) {
  await page.evaluate(() => /** @type {HTMLElement | null} */ (document.activeElement)?.blur());
  for (let stop = 0; stop < STOPS; stop += 1) {
    await page.keyboard.press("Tab");
    const here = await page.evaluate(() => (document.activeElement instanceof HTMLAnchorElement ? document.activeElement.hash : ""));
    if (here !== hash) continue;
    await page.keyboard.press("Enter");
    await page.locator(`#spine nav a[aria-current="page"][href="${hash}"]`).waitFor();
    await ready(page);
    return;
  }
  assert.fail(`${hash} is not reached with Tab`);
}

/**
 * Walks a chapter from its first stop to its last.
 * @param {import("playwright-core").Page} page
 * @param {string} where
 */
async function walk(page, where) {
  await page.evaluate(() => {
    const all = [...document.querySelectorAll("#leaf button:not(:disabled), #leaf input, #leaf select, #leaf textarea, #leaf summary, #leaf a[href], #leaf [tabindex='0']")];
    const seen = all.filter((one) => one.checkVisibility({ visibilityProperty: true }) && !(one instanceof HTMLInputElement && one.type === "radio" && !one.checked));
    Reflect.set(window, "wanted", new Set(seen));
    Reflect.set(window, "unseen", []);
    const main = /** @type {HTMLElement} */ (document.querySelector("#leaf"));
    main.focus();
  });
  let stops = 0;
  for (; stops < STOPS; stops += 1) {
    await page.keyboard.press("Tab");
    const inside = await page.evaluate(() => {
      const here = document.activeElement;
      if (!here || !here.closest("#leaf")) return false;
      /** @type {Set<Element>} */ (Reflect.get(window, "wanted")).delete(here);
      const style = getComputedStyle(here);
      const marked = [here, ...here.children].some((one) => {
        const own = getComputedStyle(one);
        return one instanceof SVGElement && own.stroke !== "none" && parseFloat(own.strokeWidth) >= 3;
      });
      const outlined = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
      if (!marked && !outlined) Reflect.get(window, "unseen").push(here.outerHTML.slice(0, 120));
      return true;
    });
    if (!inside) break;
  }
  const { missed, unseen } = await page.evaluate(() => ({
    missed: [.../** @type {Set<Element>} */ (Reflect.get(window, "wanted"))].filter((one) => one.isConnected && one.checkVisibility() && !one.closest("[hidden]")).map((one) => one.outerHTML.slice(0, 160)),
    unseen: Reflect.get(window, "unseen"),
  }));
  assert.ok(stops < STOPS, `${where}: Tab does not come out`);
  assert.deepEqual(missed, [], `${where}: not reached with Tab`);
  assert.deepEqual(unseen, [], `${where}: the focus is not seen`);
  return stops;
}

/** Arrow keys on the point of the neck, one revision for one movement. @param {import("playwright-core").Page} page */
async function movePoint(page) {
  const before = await revision(page);
  const handle = page.locator('.handle[data-handle="neckline.depth"]');
  const shown = await handle.getAttribute("aria-valuetext");
  await handle.focus();
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Shift+ArrowDown");
  const after = await newer(page, before);
  assert.equal(after, before + 1, "a movement is one revision");
  const now = await handle.getAttribute("aria-valuetext");
  assert.notEqual(now, shown, "the number follows the point");
  const millimetres = (/** @type {string | null} */ words) => parseFloat(words ?? "");
  assert.ok(Math.abs(millimetres(now) - millimetres(shown) - 6) <= 1, `${shown} and 6 mm further is ${now}`);
}

/** Enter on a point, a number, Enter. @param {import("playwright-core").Page} page */
async function typeNumber(page) {
  const before = await revision(page);
  const handle = page.locator('.handle[data-handle="neckline.depth"]');
  await handle.focus();
  await page.keyboard.press("Enter");
  await page.locator("#tag-field:focus").waitFor();
  await page.keyboard.type("92 mm");
  await page.keyboard.press("Enter");
  await newer(page, before);
  await page.waitForFunction(() => document.querySelector('.handle[data-handle="neckline.depth"]')?.getAttribute("aria-valuetext")?.startsWith("92"));
  assert.equal(await page.locator('[id="number-neckline.depth"]').inputValue(), "92 mm");
}

/** Ctrl+Z twice, Ctrl+Shift+Z once. @param {import("playwright-core").Page} page */
async function takeBack(page) {
  const value = () => page.locator('[id="number-neckline.depth"]').inputValue();
  let at = await revision(page);
  await page.keyboard.press("Control+z");
  at = await newer(page, at);
  assert.notEqual(await value(), "92 mm");
  await page.keyboard.press("Control+Shift+z");
  await newer(page, at);
  assert.equal(await value(), "92 mm");
}
