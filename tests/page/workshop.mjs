// What every story needs: the program on a book of its own, a browser that may speak to nothing but 127.0.0.1, and waits for conditions.

import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

/** The longest wait for anything; two slow processors shared with others need some patience. */
export const PATIENCE = 120_000;



/** @typedef {import("playwright-core").Page} Page */
/** @typedef {import("playwright-core").Browser} Browser */
/** @typedef {import("playwright-core").BrowserContextOptions} Look */

/** The program, open on a book. */
export class Program {
  /**
   * @param {string} program
   * @param {string} book
   */
  constructor(program, book) {
    this.program = program;
    this.book = book;
    this.address = "";
    /** @type {import("node:child_process").ChildProcess | null} */
    this.child = null;
  }

  /** Starts it and waits until it tells its address. */
  async open() {
    const child = spawn(this.program, ["open", "--book", this.book, "--no-browser", "--port", "0"], { stdio: ["ignore", "pipe", "pipe"] });
    this.child = child;
    this.address = await new Promise((found, failed) => {
      let said = "";
      const late = setTimeout(() => failed(new Error(`the program told no address: ${said}`)), PATIENCE);
      const hear = (/** @type {Buffer} */ bytes) => {
        said += bytes.toString();
        const address = said.match(/http:\/\/127\.0\.0\.1:\d+\/\?key=\S+/)?.[0];
        if (!address) return;
        clearTimeout(late);
        found(address);
      };
      child.stdout?.on("data", hear);
      child.stderr?.on("data", hear);
      child.on("exit", (code) => failed(new Error(`the program ended with ${code}: ${said}`)));
    });
  }

  /** Ends it at once, in the middle of whatever it does. */
  async kill() {
    const child = this.child;
    if (!child || child.exitCode !== null) return;
    const gone = new Promise((done) => child.on("exit", done));
    child.kill("SIGKILL");
    await gone;
  }
}

/** A folder that goes away. */
export function scratch() {
  const folder = mkdtempSync(join(tmpdir(), "notchbook-page-"));
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Starts Debian's chromium, or the one that CHROMIUM names. */
export function browser() {
  return chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-background-networking"] });
}

/**
 * Opens the workbench in a window of its own, and writes down every request and every mistake of the page.
 * @param {Browser} browser
 * @param {string} address
 * @param {Look} [look]
 */
export async function visit(browser, address, look = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, colorScheme: "light", acceptDownloads: true, ...look });
  context.setDefaultTimeout(PATIENCE);
  const page = await context.newPage();
  /** @type {string[]} */
  const requests = [];
  /** @type {string[]} */
  const mistakes = [];
  page.on("request", (request) => requests.push(request.url()));
  page.on("pageerror", (mistake) => mistakes.push(`${mistake.message}\n${mistake.stack ?? ""}`));
  page.on("console", (message) => {
    // A refused edit is an answer, not a mistake of the page.
    if (message.type() === "error" && !message.text().includes("the server responded with a status of")) mistakes.push(message.text());
  });
  await page.goto(address);
  await ready(page);
  return { context, page, requests, mistakes };
}

/**
 * Tells a story; where it fails, says where its window stood, and takes a picture of it into the folder that PICTURES names.
 * @template T
 * @param {Page} page
 * @param {() => Promise<T>} story
 * @returns {Promise<T>}
 */
export async function watched(page, story) {
  try {
    return await story();
  } catch (fault) {
    const stood = await page.evaluate(() => `${location.hash}, ${document.querySelector("#leaf")?.getAttribute("data-state")}: ${document.querySelector("#said")?.textContent}`).catch(() => "closed");
    console.log(`     the window stood at ${stood}`);
    const folder = process.env.PICTURES;
    if (folder) await page.screenshot({ path: join(folder, `failed-${Date.now()}.png`) }).catch(() => {});
    throw fault;
  }
}

/** Waits until a chapter stands. @param {Page} page */
export async function ready(page) {
  const state = await page.waitForFunction(() => document.documentElement.dataset.opened === "yes" && document.querySelector("#leaf:not([data-state='loading'])")?.getAttribute("data-state"));
  if ((await state.jsonValue()) === "failed") throw new Error(`the chapter does not open: ${await page.locator("#said").textContent()}`);
}

/**
 * Turns to a chapter by its tab.
 * @param {Page} page
 * @param {string} title
 */
export async function turnTo(page, title) {
  await page.locator("#spine nav").getByRole("link", { name: title, exact: true }).click();
  await page.locator(`#spine nav a[aria-current="page"]`, { hasText: title }).waitFor();
  await ready(page);
}

/**
 * Waits until the line at the foot says something.
 * @param {Page} page
 * @param {RegExp} words
 */
export async function said(page, words) {
  await page.locator("#said", { hasText: words }).waitFor();
  return (await page.locator("#said").textContent()) ?? "";
}

/** The revision that the page shows as kept. @param {Page} page */
export async function revision(page) {
  const words = (await page.locator("#spine .kept").textContent()) ?? "";
  return Number(words.match(/\d+/)?.[0] ?? 0);
}

/**
 * Waits for a newer revision than one.
 * @param {Page} page
 * @param {number} than
 */
export async function newer(page, than) {
  await page.waitForFunction((than) => Number(document.querySelector("#spine .kept")?.textContent?.match(/\d+/)?.[0] ?? 0) > than, than);
  return revision(page);
}
