/**
 * A formula broken where a line may end: MathML breaks nowhere, so a long one is set as several, one for each piece.
 * @module values/mathlines
 */

import { h } from "./shapes.js";

/** @typedef {import("./shapes.js").Shape} Shape */

const OPEN = new Set(["(", "["]);
const CLOSE = new Set([")", "]"]);
/** A line may end before these. */
const BREAKS = new Set(["=", "+", "−", "·"]);
/** A fraction wider than this is written as a quotient; in widths of an m. */
const WIDEST = 19.5;
/** What brackets hold stays on one line up to this share of that. */
const WHOLE = 0.6;
/** How wide signs are with the room beside them, and letters, of which most have an index; in widths of an m. */
const WIDTHS = { sign: 1, dot: 0.7, bracket: 0.34, letter: 0.72, digit: 0.5 };

/**
 * The pieces of a formula, each a formula of its own that begins with its sign.
 * @param {Shape} math as values/math.js makes them
 * @param {number} [widest] that a fraction may be
 * @returns {Shape[]}
 */
export function piecesOf(math, widest = WIDEST) {
  /** @type {Shape[][]} */
  const pieces = [];
  /** Of every bracket that is open, whether a line may end within it. @type {boolean[]} */
  const open = [];
  let last = "";
  const all = flat(kidsOf(math), widest);
  all.forEach((each, index) => {
    const sign = signOf(each);
    if (CLOSE.has(sign)) open.pop();
    // A sign after another, or first of all in brackets, belongs to its number.
    const breaks = BREAKS.has(sign) && !BREAKS.has(last) && !OPEN.has(last) && open.every(Boolean);
    if (!pieces.length || breaks) pieces.push([BREAKS.has(sign) ? infix(each) : each]);
    else pieces[pieces.length - 1].push(each);
    if (OPEN.has(sign)) open.push(widthWithin(all, index) > widest * WHOLE);
    last = sign;
  });
  return pieces.map((kids, key) => h("math", { key }, [h("mrow", {}, kids)]));
}

/** The sign or bracket that a shape is, or nothing. @param {Shape} shape */
function signOf({ tag, kids }) {
  return tag === "mo" && typeof kids === "string" ? kids : "";
}

/** How wide that is which a bracket holds. @param {Shape[]} all @param {number} from where it opens */
function widthWithin(all, from) {
  let [depth, width] = [0, 0];
  for (const each of all.slice(from)) {
    if (OPEN.has(signOf(each))) depth++;
    if (CLOSE.has(signOf(each))) depth--;
    if (!depth) break;
    width += widthOf(each);
  }
  return width;
}

/** About how wide a formula is; the wider half of a fraction counts. @param {Shape} shape @returns {number} */
function widthOf({ tag, kids }) {
  if (typeof kids !== "string") {
    const widths = kids.map(widthOf);
    return tag === "mfrac" ? Math.max(0, ...widths) : widths.reduce((sum, each) => sum + each, 0);
  }
  if (tag !== "mo") return kids.length * (tag === "mn" ? WIDTHS.digit : WIDTHS.letter);
  if (OPEN.has(kids) || CLOSE.has(kids)) return WIDTHS.bracket;
  return kids === "·" ? WIDTHS.dot : WIDTHS.sign;
}

/**
 * Rows within rows as one, and fractions too wide as quotients.
 * @param {Shape[]} kids @param {number} widest @returns {Shape[]}
 */
function flat(kids, widest) {
  return kids.flatMap((each) => {
    if (isNegative(each)) return [each];
    if (each.tag === "mrow") return flat(kidsOf(each), widest);
    if (each.tag !== "mfrac" || widthOf(each) <= widest) return [each];
    const [top, bottom] = kidsOf(each);
    return [...bracketed(top), h("mo", {}, "/"), ...bracketed(bottom)];
  });
}

/** A number with its sign, which stands close to it. @param {Shape} shape */
function isNegative(shape) {
  const [sign, number, ...more] = kidsOf(shape);
  return shape.tag === "mrow" && sign?.kids === "−" && number?.tag === "mn" && !more.length;
}

/** Above or below the bar, in brackets within which a line may end. @param {Shape} shape @returns {Shape[]} */
function bracketed(shape) {
  const kids = flat([shape], Infinity);
  return kids.length === 1 ? kids : [h("mo", {}, "("), ...kids, h("mo", {}, ")")];
}

/** Alone before what it joins, a sign would stand as close as that of a number. @param {Shape} sign */
function infix(sign) {
  return h("mo", { ...sign.attrs, form: "infix" }, sign.kids);
}

/** @param {Shape} shape @returns {Shape[]} */
function kidsOf(shape) {
  return typeof shape.kids === "string" ? [] : shape.kids;
}
