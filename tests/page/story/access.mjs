// Everybody: axe-core on every chapter, in light and dark, at the widths of desk, tablet and phone; no sideways scrolling, also at 200 %.
//
// Sources: W3C, Web Content Accessibility Guidelines 2.2, levels A and AA, as far as axe-core's rules cover them; success criterion
// 1.4.10 (reflow) asks for 320 CSS px without scrolling in two dimensions.

import assert from "node:assert/strict";
import { AxeBuilder } from "@axe-core/playwright";
import { turnTo } from "../workshop.mjs";
import { demo } from "./demo.mjs";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22a", "wcag22aa"];
const WIDTHS = [
  { width: 1280, height: 800 },
  { width: 820, height: 1180 },
  { width: 390, height: 844 },
  // 1280 px at 200 % and at 400 %.
  { width: 640, height: 400 },
  { width: 320, height: 480 },
];

export const title = "axe-core on every chapter, light and dark, every width";

/** @param {{program: string, browser: import("playwright-core").Browser}} scene */
export async function tell(scene) {
  const { page, mistakes, close } = await demo(scene);
  let looked = 0;
  try {
    const chapters = await page.locator("#spine nav a").allTextContents();
    assert.ok(chapters.length >= 8, `chapters: ${chapters}`);
    for (const chapter of chapters) {
      await turnTo(page, chapter);
      for (const viewport of WIDTHS) {
        await page.setViewportSize(viewport);
        for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
          await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
          await look(page, `${chapter}, ${viewport.width} px, ${colorScheme}`);
          looked += 1;
        }
      }
    }
    assert.deepEqual(mistakes, []);
  } finally {
    await close();
  }
  return [`${looked} looks, no finding of axe-core, none scrolls sideways`];
}

/**
 * @param {import("playwright-core").Page} page
 * @param {string} where
 */
async function look(page, where) {
  const sideways = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.ok(sideways <= 0, `${where}: scrolls sideways by ${sideways} px`);
  const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
  const told = violations.map((one) => `${one.id}: ${one.help}\n    ${one.nodes.slice(0, 4).map((node) => `${node.html.slice(0, 160)}\n      ${node.failureSummary?.split("\n").slice(1, 3).join(" ")}`).join("\n    ")}`);
  assert.equal(violations.length, 0, `${where}:\n  ${told.join("\n  ")}`);
}
