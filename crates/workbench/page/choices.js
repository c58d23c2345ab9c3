// What a person chose for this browser: units, and light or dark. Kept in the browser, never in the book.

/** @typedef {"metric" | "inch"} Units */
/** @typedef {"system" | "light" | "dark"} Light */

/**
 * @param {string} name
 * @param {string} otherwise
 */
function read(name, otherwise) {
  try {
    return localStorage.getItem(`notchbook-${name}`) ?? otherwise;
  } catch {
    return otherwise;
  }
}

/**
 * @param {string} name
 * @param {string} value
 */
function write(name, value) {
  try {
    localStorage.setItem(`notchbook-${name}`, value);
  } catch {
    // A browser that keeps nothing still works; it asks again next time.
  }
}

/** @returns {Units} */
export function units() {
  return read("units", "metric") === "inch" ? "inch" : "metric";
}

/** @param {Units} value */
export function chooseUnits(value) {
  write("units", value);
}

/** @returns {Light} */
export function light() {
  const kept = read("light", "system");
  return kept === "light" || kept === "dark" ? kept : "system";
}

/** @param {Light} value */
export function chooseLight(value) {
  write("light", value);
  applyLight();
}

/** Lights the page as it was chosen. */
export function applyLight() {
  const chosen = light();
  if (chosen === "system") document.documentElement.removeAttribute("data-light");
  else document.documentElement.dataset.light = chosen;
}
