// Two windows on one document: neither loses what the other kept; the second is told, and shown the difference.

import assert from "node:assert/strict";
import { newer, ready, revision, said, visit } from "../workshop.mjs";
import { demo } from "./demo.mjs";

const DEPTH = "neckline.depth";

export const title = "two windows on one document";

/** @param {{program: string, browser: import("playwright-core").Browser}} scene */
export async function tell(scene) {
  const one = await demo(scene);
  try {
    const two = await visit(scene.browser, `${one.open.address}#style/concert-dress.kdl`);
    await ready(two.page);
    // The second window is held back from hearing of the first one's edit, as a window in the background is.
    await two.page.route("**/api/last*", (route) => route.abort());
    const before = await revision(one.page);
    await type(one.page, DEPTH, "101 mm");
    const first = await newer(one.page, before);
    await type(two.page, DEPTH, "88 mm");
    const notice = two.page.locator("#notice");
    await notice.waitFor();
    await said(two.page, /Not kept/);
    assert.match((await notice.textContent()) ?? "", /101 mm/, "the difference shows what the first window wrote");
    await notice.getByRole("button", { name: "Show the newest" }).click();
    await notice.waitFor({ state: "hidden" });
    await two.page.waitForFunction((first) => document.querySelector("#spine .kept")?.textContent?.includes(`revision ${first}`), first);
    assert.match(await field(two.page, DEPTH).inputValue(), /101/);
    // And now that it has seen the newest, its own edit counts.
    await type(two.page, DEPTH, "88 mm");
    await newer(two.page, first);
    // The first window hears of it by itself, and is shown the difference.
    const told = one.page.locator("#notice");
    await told.waitFor();
    assert.match((await told.textContent()) ?? "", /another window/i);
    await two.context.close();
    assert.deepEqual([...one.mistakes, ...two.mistakes].filter((words) => !words.includes("ERR_FAILED")), []);
  } finally {
    await one.close();
  }
}

/** @param {import("playwright-core").Page} page @param {string} id */
function field(page, id) {
  return page.locator(`[id="number-${id}"]`);
}

/** @param {import("playwright-core").Page} page @param {string} id @param {string} words */
async function type(page, id, words) {
  const box = field(page, id);
  await box.fill(words);
  await box.press("Enter");
}
