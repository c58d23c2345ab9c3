// Asking the server: one door for every request, with the key of this start.

import { units } from "./choices.js";

const KEY = "notchbook-key";

/** What the server said when it could not do what was asked. */
export class Problem extends Error {
  /**
   * @param {string} code stable word, such as `stale`
   * @param {string} message what was found
   * @param {string} next what to do
   * @param {any} body the whole answer
   */
  constructor(code, message, next, body = {}) {
    super(message);
    this.code = code;
    this.next = next;
    this.body = body;
  }
}

/** Takes the key out of the address, so that it is neither seen nor kept in the browser's history. */
export function takeKey() {
  const address = new URL(location.href);
  const key = address.searchParams.get("key");
  if (key === null) return;
  sessionStorage.setItem(KEY, key);
  address.searchParams.delete("key");
  history.replaceState(null, "", address.pathname + address.search + address.hash);
}

/**
 * @param {string} path
 * @param {Record<string, any>} query
 */
function addressOf(path, query) {
  const all = new URLSearchParams({ units: units() });
  for (const [name, value] of Object.entries(query)) {
    if (value === undefined || value === null) continue;
    all.set(name, typeof value === "object" ? JSON.stringify(value) : String(value));
  }
  return `/api/${path}?${all}`;
}

/**
 * @param {string} path
 * @param {Record<string, any>} query
 * @param {RequestInit} how
 */
async function send(path, query, how) {
  /** @type {Response} */
  let answer;
  try {
    answer = await fetch(addressOf(path, query), {
      ...how,
      cache: "no-store",
      headers: { ...how.headers, "x-notchbook-key": sessionStorage.getItem(KEY) ?? "" },
    });
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === "AbortError") throw fault;
    throw new Problem(
      "no-answer",
      "The workbench does not answer.",
      "It may have been closed. Start it again with “notchbook open”; everything you kept is in the book.",
    );
  }
  if (answer.ok) return answer;
  const body = await answer.json().catch(() => ({}));
  const { code = "fault", message = `The workbench answered ${answer.status}.`, next = "" } = body.problem ?? {};
  throw new Problem(code, message, next, body);
}

/**
 * Reads a view.
 * @param {string} path
 * @param {Record<string, any>} [query]
 * @param {AbortSignal} [signal]
 * @returns {Promise<any>}
 */
export async function get(path, query = {}, signal) {
  return (await send(path, query, { signal })).json();
}

/**
 * Does something.
 * @param {string} path
 * @param {Record<string, any>} body
 * @param {AbortSignal} [signal]
 * @returns {Promise<any>}
 */
export async function post(path, body, signal) {
  const how = { method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json" }, signal };
  return (await send(path, {}, how)).json();
}

/**
 * Reads a file.
 * @param {string} path
 * @param {Record<string, any>} query
 * @returns {Promise<Blob>}
 */
export async function file(path, query) {
  return (await send(path, query, {})).blob();
}

/**
 * One request in flight; while it runs only the newest wish is remembered, older ones are dropped.
 * @template T
 * @param {(wish: T) => Promise<void>} work
 */
export function newest(work) {
  /** @type {T | undefined} */
  let waiting;
  /** @type {Promise<void> | null} */
  let running = null;
  async function run() {
    try {
      while (waiting !== undefined) {
        const wish = waiting;
        waiting = undefined;
        await work(wish);
      }
    } finally {
      running = null;
    }
  }
  return {
    /** @param {T} wish */
    wish(wish) {
      waiting = wish;
      running ??= run();
      return running;
    },
    /** Waits for what is in flight and drops what is not. */
    async settle() {
      waiting = undefined;
      if (running) await running;
    },
  };
}
