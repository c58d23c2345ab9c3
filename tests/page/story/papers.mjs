// The papers that the page gives away are the command line's, byte for byte; and nothing of it all leaves this machine.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { turnTo } from "../workshop.mjs";
import { demo } from "./demo.mjs";

export const title = "the downloaded pattern equals the command line's";

/** @param {{program: string, browser: import("playwright-core").Browser}} scene */
export async function tell(scene) {
  const seen = await demo(scene);
  const { page, folder, open } = seen;
  try {
    const chapters = await page.locator("#spine nav a").allTextContents();
    for (const chapter of chapters) await turnTo(page, chapter);
    await turnTo(page, "Print");
    const pattern = await download(page, /^Download pattern-a4\.pdf/);
    // Beside the page: the documents leave the book as files, and the command line makes the papers of them.
    const out = join(folder, "out");
    execFileSync(scene.program, ["book", "--book", open.book, "export", out], { stdio: "pipe" });
    const made = join(folder, "papers");
    spawnMake(scene.program, join(out, "concert-dress.kdl"), made);
    const own = readFileSync(join(made, "pattern-a4.pdf"));
    assert.ok(own.length > 10_000);
    assert.ok(pattern.equals(own), `the page gave ${pattern.length} bytes, the command line made ${own.length}`);
    const outside = seen.requests.filter((address) => !address.startsWith(new URL(open.address).origin) && !address.startsWith("blob:") && !address.startsWith("data:"));
    assert.deepEqual(outside, [], "requests that left 127.0.0.1");
    assert.deepEqual(seen.mistakes, []);
  } finally {
    await seen.close();
  }
}

/** @param {string} program @param {string} garment @param {string} out */
function spawnMake(program, garment, out) {
  try {
    execFileSync(program, ["make", garment, "--out", out, "--paper", "a4"], { stdio: "pipe" });
  } catch (fault) {
    // A pattern with findings that must be mended is made all the same, with exit code 1.
    if (/** @type {{status?: number}} */ (fault).status !== 1) throw fault;
  }
}

/** @param {import("playwright-core").Page} page @param {RegExp} name */
export async function download(page, name) {
  const [taken] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name }).click()]);
  return readFileSync(await taken.path());
}
