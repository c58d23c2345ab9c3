// The pictures of README and docs: `node tests/page/pictures.mjs PROGRAM docs/pictures`. Made with the demo, as a person sees it.

import { join, resolve } from "node:path";
import { Program, browser, ready, said, scratch, turnTo, visit } from "./workshop.mjs";

const [program, out] = process.argv.slice(2);
if (!program || !out) {
  console.error("usage: node tests/page/pictures.mjs PROGRAM FOLDER");
  process.exit(2);
}

const window = await browser();
const { folder, remove } = scratch();

/**
 * @param {import("playwright-core").Page} page
 * @param {string} name
 */
async function picture(page, name) {
  await page.evaluate(() => document.fonts.ready);
  // One frame for what moves, then it stands.
  await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
  await page.screenshot({ path: join(out, `page-${name}.png`), animations: "disabled" });
  console.log(`page-${name}.png`);
}

async function first() {
  const open = new Program(resolve(program), join(folder, "own.book"));
  await open.open();
  const { page, context } = await visit(window, open.address, { reducedMotion: "reduce" });
  await picture(page, "begin");
  await page.getByLabel("Whose measures?").fill("Rosalba");
  await page.getByRole("button", { name: "Measure yourself" }).click();
  await page.locator("#leaf.body .measure").first().waitFor();
  await ready(page);
  await page.locator("#measure-bust").fill("94");
  await page.locator("#measure-bust").press("Tab");
  await said(page, /Kept|kept/);
  await page.locator("#measure-waist").fill("29");
  await page.locator(".asks").waitFor();
  await picture(page, "body-asks");
  await context.close();
  await open.kill();
}

async function demo() {
  const open = new Program(resolve(program), join(folder, "demo.book"));
  await open.open();
  const { page, context } = await visit(window, open.address, { reducedMotion: "reduce" });
  await page.getByRole("button", { name: "Look round in the demo" }).click();
  await page.locator("#leaf.style .piece").first().waitFor({ state: "attached" });
  await ready(page);
  await picture(page, "style");
  await page.emulateMedia({ colorScheme: "dark" });
  await picture(page, "style-dark");
  await page.emulateMedia({ colorScheme: "light" });
  await turnTo(page, "Body");
  await picture(page, "body");
  await turnTo(page, "Parts");
  await page.locator(".walks button").first().click();
  await page.locator("#walk-along").fill("60");
  await picture(page, "parts");
  await turnTo(page, "Cloth and lay");
  await page.locator(".lays button").first().waitFor();
  await page.locator('[data-key="search"]:not(.running)').waitFor();
  await picture(page, "lay");
  await turnTo(page, "Print");
  await page.locator(".preview img").waitFor();
  await page.waitForFunction(() => /** @type {HTMLImageElement | null} */ (document.querySelector(".preview img"))?.complete);
  await picture(page, "print");
  await page.setViewportSize({ width: 390, height: 844 });
  await turnTo(page, "Style");
  await picture(page, "phone");
  await context.close();
  await open.kill();
}

try {
  await first();
  await demo();
} finally {
  await window.close();
  remove();
}
