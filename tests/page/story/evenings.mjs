// The three evenings, as far as rooms exist: measure (with the question “29: is that inches?”), block, mock-up note and steps, the dress,
// a finding mended, the lay, the papers; then the program is killed and opened again, and everything is there.

import assert from "node:assert/strict";
import { join } from "node:path";
import { Program, newer, ready, revision, said, scratch, turnTo, visit, watched } from "../workshop.mjs";
import { download } from "./papers.mjs";

export const title = "three evenings: from tape to paper, and open again after a kill";

/** An invented body, in centimetres; the waist is typed on its own, in inches without saying so. */
const TAPED = {
  bust: "94", "upper-chest": "90.5", "under-bust": "79", hip: "101", "neck-base": "37", "shoulder-length": "12.8", "across-back": "36.5",
  "across-front": "33.5", "bust-point-width": "18.8", "neck-to-bust-point": "27", "back-waist-length": "40.5", "front-waist-length": "43",
  "waist-to-hip": "19.5", "waist-to-floor": "105", "upper-arm": "29.5", wrist: "15.6", "arm-length": "58.5", stature: "168",
};

const NOTE = "Gapes 12 mm at the armhole on the bow side; 15 mm too long at the back waist; tight across the back when she bows.";

/** @typedef {import("playwright-core").Page} Page */

/** @param {{program: string, browser: import("playwright-core").Browser}} scene */
export async function tell(scene) {
  const { folder, remove } = scratch();
  const open = new Program(scene.program, join(folder, "evenings.book"));
  await open.open();
  try {
    const { page, mistakes, context } = await visit(scene.browser, open.address);
    const { length, pattern, before } = await watched(page, () => evenings(page));
    assert.deepEqual(mistakes, []);
    await open.kill();
    await context.close();
    // The same book, another evening.
    await open.open();
    const again = await visit(scene.browser, open.address);
    await turnTo(again.page, "Style");
    await again.page.locator("#on-desk").selectOption({ label: "Concert dress" });
    await again.page.locator("#leaf.style h1", { hasText: "Concert dress" }).waitFor();
    await ready(again.page);
    assert.deepEqual(await kept(again.page), before, "after the kill everything is there");
    await takeBackAfterwards(again.page);
    assert.deepEqual(again.mistakes, []);
    await again.context.close();
    return [`length to buy: ${length}; pattern of ${pattern} bytes`];
  } finally {
    await open.kill();
    remove();
  }
}

/** @param {Page} page */
async function evenings(page) {
  await begin(page);
  await measure(page);
  await mockUp(page);
  await dress(page);
  await mend(page);
  const length = await lay(page);
  const pattern = await papers(page);
  return { length, pattern, before: await kept(page) };
}

/** @param {Page} page */
async function begin(page) {
  await page.locator("h1", { hasText: "An empty book" }).waitFor();
  await page.getByLabel("Whose measures?").fill("Marit");
  await page.getByRole("button", { name: "Measure yourself" }).click();
  await page.locator("#leaf.body .measure").first().waitFor();
  await ready(page);
}

/** Goes through all groups and fills in what was taped. @param {Page} page */
async function measure(page) {
  const groups = await page.locator(".groups button").count();
  for (let group = 0; group < groups; group += 1) {
    await page.locator(".groups button").nth(group).click();
    await page.locator(`.groups li:nth-child(${group + 1}) button[aria-current="step"]`).waitFor();
    for (const [key, value] of Object.entries(TAPED)) {
      const field = page.locator(`[id="measure-${key}"]`);
      if (await field.count()) await fill(page, field, value);
    }
    if (await page.locator("#measure-waist").count()) await waist(page);
  }
  await page.locator(".summary", { hasText: "19 of all" }).waitFor();
  // The figures are drawn from the measures: a wider waist moves their outline.
  await page.getByRole("button", { name: "See the pattern" }).click();
  await page.locator("#leaf.block .piece").first().waitFor({ state: "attached" });
  await ready(page);
  assert.ok((await page.locator(".piece").count()) >= 5, "the block has its pieces");
}

/** @param {Page} page @param {import("playwright-core").Locator} field @param {string} value */
async function fill(page, field, value) {
  const before = await revision(page);
  await field.fill(value);
  await field.press("Enter");
  await newer(page, before);
}

/** The waist is typed as 29 and the page asks. @param {Page} page */
async function waist(page) {
  const outline = page.locator(".figures .outline").first();
  const drawn = await outline.getAttribute("d");
  await page.locator("#measure-waist").fill("29");
  await page.locator(".asks", { hasText: "is that inches?" }).waitFor();
  const before = await revision(page);
  await page.locator(".asks").getByRole("button", { name: /29 in/ }).click();
  await newer(page, before);
  await page.locator(".asks").waitFor({ state: "detached" });
  assert.match(await page.locator("#measure-waist").inputValue(), /29 in/);
  assert.notEqual(await outline.getAttribute("d"), drawn, "the figure is drawn from the measures");
}

/** Second evening: a note, and three corrections by hand. @param {Page} page */
async function mockUp(page) {
  await turnTo(page, "Notes");
  await page.locator("#note-words").fill(NOTE);
  await page.getByRole("button", { name: "Keep this note" }).click();
  await page.locator(".words-of-note", { hasText: "bow side" }).waitFor();
  await turnTo(page, "Block");
  const first = await revision(page);
  await addStep(page, "transfer", { dart: "front.bust-dart", to: "front.armhole halfway", share: "0.3", name: "armhole-dart" }, "gapes at the armhole");
  await addStep(page, "broad-back", { by: "5 mm" }, "tight when she bows");
  await addStep(page, "sway-back", { by: "15 mm" }, "too long at the back waist");
  assert.equal(await revision(page), first + 3);
  // The story reads in another order, and a step can be left out and taken in again.
  const titles = () => page.locator(".steps .title").allTextContents();
  const before = await titles();
  assert.equal(before.length, 3);
  await page.locator(".step").last().locator("summary").click();
  await page.locator(".step").last().getByRole("button", { name: /^Mute/ }).click();
  await page.locator(".step.muted").waitFor();
  await page.locator(".step.muted").getByRole("button", { name: /^Let count again/ }).click();
  await page.locator(".step.muted").waitFor({ state: "detached" });
  await page.locator(".step").last().getByRole("button", { name: /earlier$/ }).click();
  await page.waitForFunction((last) => document.querySelectorAll(".steps .title")[1]?.textContent?.includes(last), words(before[2]));
}

/** A title without the number that is only heard. @param {string} title */
function words(title) {
  return title.replace(/^Step \d+: /, "");
}

/** @param {Page} page @param {string} name @param {Record<string, string>} fields @param {string} why */
async function addStep(page, name, fields, why) {
  const before = await revision(page);
  const add = page.locator("details.add");
  if (!(await add.getAttribute("open").then((open) => open !== null))) await add.locator("summary").click();
  await page.locator("#new-step").selectOption(name);
  for (const [field, value] of Object.entries(fields)) await page.locator(`[id="new-step-${field}"]`).fill(value);
  await page.locator("#new-step-why").fill(why);
  await page.getByRole("button", { name: "Add this step" }).click();
  await newer(page, before);
  await page.locator(".because", { hasText: why }).waitFor();
}

/** Third evening: the dress on the block. @param {Page} page */
async function dress(page) {
  await turnTo(page, "The book");
  await page.locator("#new-title").fill("Concert dress");
  await page.locator("#new-kind").selectOption("dress");
  await page.locator("#new-from").selectOption({ index: 1 });
  await page.getByRole("button", { name: "Begin it" }).click();
  await page.locator("#leaf.style .piece").first().waitFor({ state: "attached" });
  await ready(page);
  await number(page, "neckline.shape", "v");
  await number(page, "neckline.depth", "95 mm");
  await number(page, "sleeve.ease", "60 mm");
  await number(page, "sleeve.cap-ease", "35 mm");
  await number(page, "skirt.length", "720 mm");
  // What lies behind the outside is written by hand.
  await page.locator("details.recipe summary").click();
  const text = await page.locator("#recipe-text").inputValue();
  const end = text.lastIndexOf("}");
  const parts = '    opening "back" closed="invisible-zip"\n    cloths {\n        shell "black wool crepe" width="150 cm" thickness="0.5 mm" weight=230\n        facing "cotton sateen" width="110 cm"\n    }\n    facings {\n        neck width="55 mm"\n    }\n    hems {\n        skirt "turned" depth="50 mm"\n    }\n';
  const before = await revision(page);
  await page.locator("#recipe-text").fill(text.slice(0, end) + parts + text.slice(end));
  await page.getByRole("button", { name: "Keep this text" }).click();
  await newer(page, before);
  await page.locator(".margin .note").first().waitFor();
}

/** @param {Page} page @param {string} id @param {string} value */
async function number(page, id, value) {
  const field = page.locator(`[id="number-${id}"]`);
  const fold = page.locator("details.usuals", { has: field });
  if ((await fold.count()) && (await fold.getAttribute("open")) === null) await fold.locator("summary").click();
  const before = await revision(page);
  if ((await field.evaluate((one) => one.tagName)) === "SELECT") await field.selectOption(value);
  else {
    await field.fill(value);
    await field.press("Enter");
  }
  await newer(page, before);
}

/** A finding is shown with the lines that its cure would change; one press writes them. @param {Page} page */
async function mend(page) {
  const cures = page.locator(".cure");
  await cures.first().waitFor();
  const cure = cures.first();
  const lines = await cure.locator(".difference li.comes, .difference li.goes").count();
  assert.ok(lines > 0, "the lines are shown before");
  const before = await revision(page);
  const note = (await page.locator(".note", { has: page.locator(".cure") }).first().locator(".message").textContent()) ?? "";
  await cure.getByRole("button").click();
  await newer(page, before);
  await page.waitForFunction((note) => ![...document.querySelectorAll(".note .message")].some((one) => one.textContent === note), note);
}

/** @param {Page} page */
async function lay(page) {
  await turnTo(page, "Cloth and lay");
  await page.locator(".lays .buy").first().waitFor();
  await page.locator('[data-key="search"]:not(.running)').waitFor();
  assert.ok((await page.locator(".lies").count()) >= 5, "the pieces lie on the cloth");
  return ((await page.locator(".lays .buy").first().textContent()) ?? "").replace("buy ", "");
}

/** @param {Page} page */
async function papers(page) {
  await turnTo(page, "Print");
  await page.locator(".tile").first().waitFor();
  const pattern = await download(page, /^Download pattern-a4\.pdf/);
  assert.equal(pattern.subarray(0, 5).toString(), "%PDF-");
  await said(page, /pattern-a4\.pdf/);
  return pattern.length;
}

/** What the book holds, as the page shows it. @param {Page} page */
async function kept(page) {
  await turnTo(page, "Style");
  const style = await revision(page);
  const depth = await page.locator('[id="number-neckline.depth"]').inputValue();
  const text = await page.locator("#recipe-text").inputValue();
  await turnTo(page, "Notes");
  const notes = await page.locator(".words-of-note").allTextContents();
  await turnTo(page, "Block");
  const steps = await page.locator(".steps .title").allTextContents();
  await turnTo(page, "Body");
  const body = await page.locator("#measure-bust").inputValue();
  await turnTo(page, "The book");
  const documents = await page.locator(".documents li").allTextContents();
  await turnTo(page, "Style");
  return { style, depth, text, notes, steps, body, documents };
}

/** What was done before the kill can be undone after it. @param {Page} page */
async function takeBackAfterwards(page) {
  const before = await revision(page);
  await page.keyboard.press("Control+z");
  await newer(page, before);
}
