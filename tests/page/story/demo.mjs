// The demo's book, begun as a person would begin it.

import { join } from "node:path";
import { Program, ready, scratch, visit } from "../workshop.mjs";

/**
 * A program on a fresh book with the demo in it, seen in a window.
 * @param {{program: string, browser: import("playwright-core").Browser}} scene
 * @param {import("../workshop.mjs").Look} [look]
 */
export async function demo({ program, browser }, look) {
  const { folder, remove } = scratch();
  const open = new Program(program, join(folder, "demo.book"));
  await open.open();
  const seen = await visit(browser, open.address, look);
  await seen.page.getByRole("button", { name: "Look round in the demo" }).click();
  await seen.page.locator("#leaf.style .piece").first().waitFor({ state: "attached" });
  await ready(seen.page);
  const close = async () => {
    await seen.context.close();
    await open.kill();
    remove();
  };
  return { ...seen, open, folder, close };
}

/** The key and the address, to ask the server beside the page. @param {string} address */
export function door(address) {
  const url = new URL(address);
  return { origin: url.origin, key: url.searchParams.get("key") ?? "" };
}
