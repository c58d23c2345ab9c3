// The shapes of what the server sends, as far as several files speak of them. Only types; nothing runs here.

/**
 * A line or word of a drawing, in the piece's own millimetres.
 * @typedef {object} Shape
 * @property {string} id
 * @property {string} kind what the line is: cutting, seam, fold, grain, notch …
 * @property {string} [d] path
 * @property {{x: number, y: number, size: number, anchor?: string, turn?: number, words: string}} [text]
 * @property {string} [edge] the edge that the line is, as `piece/edge`
 * @property {string} [seam]
 * @property {string} [layer]
 */

/**
 * @typedef {object} DrawnPiece
 * @property {string} name
 * @property {string} title
 * @property {string} hash
 * @property {[number, number]} at where it lies in the drawing
 * @property {[number, number, number, number]} box x, y, width, height in its own millimetres
 * @property {string} words the piece in a sentence
 * @property {Shape[]} shapes
 * @property {boolean} [same] true where only `name`, `hash` and `at` were sent
 */

/**
 * @typedef {object} Drawing
 * @property {[number, number, number, number]} box
 * @property {DrawnPiece[]} pieces
 */

/**
 * @typedef {object} Place
 * @property {string} kind piece, edge, seam, measure or text
 * @property {string} [piece]
 * @property {string} [edge] as `piece/edge`
 * @property {string} [seam]
 * @property {string} [measure]
 * @property {number} [line]
 * @property {[number, number] | null} [at] in the drawing
 * @property {string} words
 */

/** @typedef {{sign: string, number?: number, line: string}} ChangedLine */

/** @typedef {{number: number, words: string, lines: ChangedLine[]}} Mend */

/**
 * @typedef {object} Finding
 * @property {string} id
 * @property {string} code
 * @property {"error" | "warning" | "note"} severity
 * @property {string} message
 * @property {string} [found]
 * @property {string} [allowed]
 * @property {string} [why]
 * @property {string} [next]
 * @property {Place[]} places
 * @property {Mend[]} mends
 */

/**
 * A point that can be moved, and with it a number.
 * @typedef {object} Handle
 * @property {string} id
 * @property {string} label
 * @property {string} piece
 * @property {[number, number]} at in the drawing
 * @property {[number, number] | null} [along] direction in which the number grows; none for a point that moves freely
 * @property {string | null} [number] id of the number
 * @property {string} shown
 * @property {string} [help]
 * @property {number} [value]
 * @property {number | null} [least]
 * @property {number | null} [most]
 */

/**
 * A number (or word) of a style that can be typed.
 * @typedef {object} StyleNumber
 * @property {string} id
 * @property {string} label
 * @property {string} group
 * @property {number | null} value
 * @property {string} shown
 * @property {string} unit
 * @property {number | null} [least]
 * @property {number | null} [most]
 * @property {string} [bounds] from what to what, in words
 * @property {string[] | null} [choices]
 * @property {boolean} written
 */

/** @typedef {{edge: string, with: string[], seam: string, words: string}} Partner */

export {};
