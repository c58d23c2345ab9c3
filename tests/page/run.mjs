// The page in a browser: `node tests/page/run.mjs target/release/notchbook [STORY…]`. Each story has a book of its own.

import { resolve } from "node:path";
import { browser } from "./workshop.mjs";
import * as access from "./story/access.mjs";
import * as drag from "./story/drag.mjs";
import * as evenings from "./story/evenings.mjs";
import * as keyboard from "./story/keyboard.mjs";
import * as papers from "./story/papers.mjs";
import * as windows from "./story/windows.mjs";

/** @typedef {{title: string, tell: (scene: {program: string, browser: import("playwright-core").Browser}) => Promise<string[] | void>}} Story */

/** @type {Record<string, Story>} */
const stories = { evenings, windows, papers, keyboard, drag, access };

const [named, ...wanted] = process.argv.slice(2);
if (!named || wanted.some((name) => !(name in stories))) {
  console.error(`usage: node tests/page/run.mjs PROGRAM [${Object.keys(stories).join("|")} …]`);
  process.exit(2);
}

const program = resolve(named);
const window = await browser();
let failed = 0;
for (const name of wanted.length ? wanted : Object.keys(stories)) {
  const began = Date.now();
  try {
    const figures = (await stories[name].tell({ program, browser: window })) ?? [];
    console.log(`ok   ${stories[name].title} (${((Date.now() - began) / 1000).toFixed(1)} s)`);
    for (const line of figures) console.log(`     ${line}`);
  } catch (fault) {
    failed += 1;
    console.log(`FAIL ${stories[name].title}`);
    console.log(fault instanceof Error ? (fault.stack ?? fault.message) : String(fault));
  }
}
await window.close();
process.exit(failed ? 1 : 0);
