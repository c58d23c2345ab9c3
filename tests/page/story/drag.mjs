// Dragging: how many redraws a second the page manages, how long each takes from the hand to the drawing. Figures, no limits: a test
// that fails on a slow machine would say nothing of the program.

import assert from "node:assert/strict";
import { newer, revision } from "../workshop.mjs";
import { demo } from "./demo.mjs";

export const title = "a point dragged over the drawing";

/** Movements of the hand, one a frame. */
const MOVES = 240;

/** @param {{program: string, browser: import("playwright-core").Browser}} scene */
export async function tell(scene) {
  const seen = await demo(scene);
  const { page } = seen;
  try {
    const before = await revision(page);
    const handle = page.locator(".handle:not([hidden])", { has: page.locator(".way") }).and(page.locator('[data-handle*="neck"]')).first();
    const grip = await handle.locator(".hit").boundingBox();
    assert.ok(grip);
    const [x, y] = [grip.x + grip.width / 2, grip.y + grip.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 1, y + 1);
    await page.waitForFunction(() => performance.getEntriesByName("redraw").length > 0);
    await page.evaluate(() => {
      performance.clearMeasures();
      const times = /** @type {number[]} */ ([]);
      Reflect.set(window, "frameTimes", times);
      let last = performance.now();
      const frame = (/** @type {number} */ now) => {
        times.push(now - last);
        last = now;
        if (Reflect.get(window, "frameTimes") === times) requestAnimationFrame(frame);
      };
      requestAnimationFrame(frame);
    });
    const began = Date.now();
    for (let move = 0; move < MOVES; move += 1) {
      const part = (2 * Math.PI * move) / 60;
      await page.mouse.move(x + 3 * Math.sin(part), y + 8 * Math.sin(part));
    }
    const took = (Date.now() - began) / 1000;
    const { redraws, draws, frames } = await page.evaluate(() => {
      const frames = /** @type {number[]} */ (Reflect.get(window, "frameTimes"));
      Reflect.set(window, "frameTimes", null);
      const measured = (/** @type {string} */ name) => performance.getEntriesByName(name).map((entry) => entry.duration);
      return { redraws: measured("redraw"), draws: measured("draw"), frames: frames.slice(1) };
    });
    await page.mouse.up();
    await newer(page, before);
    assert.ok(redraws.length > 0, "something was redrawn");
    assert.deepEqual(seen.mistakes, []);
    return [
      `${redraws.length} redraws in ${took.toFixed(2)} s (${(redraws.length / took).toFixed(1)} a second) for ${MOVES} moves of the hand`,
      `from the hand to the drawing: median ${at(redraws, 0.5)} ms, 95th percentile ${at(redraws, 0.95)} ms`,
      `of that in the page, once the answer is there: median ${at(draws, 0.5)} ms, 95th percentile ${at(draws, 0.95)} ms`,
      `frames: median ${at(frames, 0.5)} ms, 95th percentile ${at(frames, 0.95)} ms`,
    ];
  } finally {
    await seen.close();
  }
}

/** @param {number[]} values @param {number} part */
function at(values, part) {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? NaN).toFixed(1);
}
