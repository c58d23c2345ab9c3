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
];
/** 1280 px at 200 % and at 400 %. */
const ENLARGED = [
  { width: 640, height: 400 },
  { width: 320, height: 256 },
];

export const title = "axe-core on every chapter, light and dark, every width";

/** @typedef {import("playwright-core").Page} Page */

/** @param {{program: string, browser: import("playwright-core").Browser}} scene */
export async function tell(scene) {
  const { page, mistakes, close } = await demo(scene);
  let looked = 0;
  /** All that was found, told at the end: one look at everything is worth more than the first fault. @type {Set<string>} */
  const faults = new Set();
  try {
    const chapters = await page.locator("#spine nav a").allTextContents();
    assert.ok(chapters.length >= 8, `chapters: ${chapters}`);
    for (const chapter of chapters) {
      await turnTo(page, chapter);
      for (const viewport of [...ENLARGED, ...WIDTHS]) {
        await page.setViewportSize(viewport);
        const sideways = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        if (sideways > 0) faults.add(`${chapter}, ${viewport.width} px: scrolls sideways by ${sideways} px`);
        if (ENLARGED.includes(viewport)) continue;
        for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
          await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
          for (const told of await look(page, colorScheme)) faults.add(`${chapter}, ${viewport.width} px, ${colorScheme}: ${told}`);
          looked += 1;
        }
      }
    }
    assert.deepEqual(mistakes, []);
    assert.equal(faults.size, 0, `\n${[...faults].join("\n")}`);
  } finally {
    await close();
  }
  return [`${looked} looks, no finding of axe-core; nothing scrolls sideways, also at 200 and 400 %`];
}

/**
 * All rules in the light; in the dark those of contrast, since nothing else differs there.
 * @param {Page} page
 * @param {"light" | "dark"} light
 */
async function look(page, light) {
  const axe = new AxeBuilder({ page });
  const { violations } = await (light === "light" ? axe.withTags(RULES) : axe.withRules("color-contrast")).analyze();
  return violations.map((one) => {
    const nodes = one.nodes.slice(0, 3).map((node) => `\n    ${node.html.slice(0, 160)}\n      ${node.failureSummary?.split("\n").slice(1, 3).join(" ")}`);
    return `${one.id}: ${one.help}${nodes.join("")}`;
  });
}
