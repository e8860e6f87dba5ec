/**
 * Units at the page's edge: everything inside is mm, N, MPa, kg. Units, exact factors and decimals are the server's.
 * @module values/units
 */

import { vocabulary } from "./vocabulary.js";

/** @typedef {"error"|"length"|"fine"|"ratio"|"percent"|"angle"|"area"|"volume"|"flow"|"speed"|"count"} Extent */
/** @typedef {Extent|"force"|"pressure"|"modulus"|"mass"|"line mass"|"stiffness"|"time"|"rate"|"pace"|"way"} Quantity */

const { quantities, typed: TYPED } = vocabulary;

/** Every system of units by its name. @type {[System, Customs][]} */
export const SYSTEMS = /** @type {[System, Customs][]} */ (Object.entries(vocabulary.systems));

/** What a system is called, and what is round in it. @param {System} system */
export function customs(system) {
  return vocabulary.systems[system];
}

/**
 * Words of the server's as the trade of a system has them: cross fall with mm, cross slope with inches.
 * @param {string} words @param {System} system
 */
export function inTrade(words, system) {
  const { cross_fall: name } = customs(system);
  return words.replace(/cross fall/gi, (found) => found[0] + name.slice(1));
}

/** The system of a name, if there is one. @param {string|null|undefined} name @returns {System|null} */
export function systemOf(name) {
  return SYSTEMS.find(([each]) => each === name)?.[0] ?? null;
}

/** The system that one button takes next. @param {System} system */
export function systemAfter(system) {
  return SYSTEMS[(SYSTEMS.findIndex(([each]) => each === system) + 1) % SYSTEMS.length][0];
}

export const MM_PER_INCH = quantities.fine.inch.factor;

export const DASH = "–";
const MINUS = "−";

/** Grid steps offered, in mm. @param {System} system @returns {{label: string, step: number}[]} */
export function gridSteps(system) {
  return Object.entries(vocabulary.length_steps[system]).map(([label, step]) => ({ label, step }));
}

/** Steps of the keys: a tenth is an eighth where parts are fractions. @param {number} steps @param {System} system */
export function inFractions(steps, system) {
  return customs(system).fractions && Math.abs(steps) < 1 ? Math.sign(steps) / 8 : steps;
}

/** How many decimals a quantity is shown with. @param {Quantity} quantity @param {System} system */
export function decimals(quantity, system) {
  return quantities[quantity][system].digits;
}

/** How many decimals show a step of a length. @param {number} step mm @param {System} system */
export function decimalsFor(step, system) {
  return Math.max(0, Math.ceil(Math.log10(quantities.fine[system].factor / step) - 1e-9));
}

/** How many mm one unit of a length is. @param {System} system */
export function mmPerUnit(system) {
  return quantities.length[system].factor;
}

/** The units of a system, as a title block lists them. @param {System} system */
export function unitsOf(system) {
  return /** @type {const} */ (["length", "force", "pressure"]).map((each) => unit(each, system)).join(", ");
}

/** @param {Quantity} quantity @param {System} system */
export function unit(quantity, system) {
  return quantities[quantity][system].unit;
}

/**
 * A number in the system's unit, with a true minus and no negative zero. A dash where there is none.
 * @param {number|null|undefined} value in document units
 * @param {Quantity} quantity
 * @param {System} system
 * @param {{sign?: boolean, digits?: number}} [how] sign: put + before what is above zero
 */
export function number(value, quantity, system, how = {}) {
  if (value === null || value === undefined || !Number.isFinite(value)) return DASH;
  const { factor, digits } = quantities[quantity][system];
  const places = how.digits ?? digits;
  const shown = Math.abs(value / factor).toFixed(places);
  const zero = Number(shown) === 0;
  return (zero ? "" : value < 0 ? MINUS : how.sign ? "+" : "") + shown;
}

/**
 * A number with its unit.
 * @param {number|null|undefined} value
 * @param {Quantity} quantity
 * @param {System} system
 * @param {{sign?: boolean, digits?: number}} [how]
 */
export function amount(value, quantity, system, how = {}) {
  const shown = number(value, quantity, system, how);
  const name = unit(quantity, system);
  return shown === DASH || !name ? shown : name === "°" ? shown + name : `${shown}\u00a0${name}`;
}

/** From what is shown to document units. @param {number} value @param {Quantity} quantity @param {System} system */
export function inward(value, quantity, system) {
  return value * quantities[quantity][system].factor;
}

/** Lengths keep their place to a micrometre however long they are; of other numbers, these figures are shown. */
const LENGTHS = new Set(["error", "length", "fine"]);
const FIGURES = 7;

/**
 * From document units to a plain number for an entry field.
 * @param {number} value
 * @param {Quantity} quantity
 * @param {System} system
 */
export function outward(value, quantity, system) {
  const shown = value / quantities[quantity][system].factor;
  const rounded = Number(shown.toFixed(decimals("error", system) + 1));
  return String(LENGTHS.has(quantity) ? rounded : Number(rounded.toPrecision(FIGURES)));
}

const LONGEST = 60;
/** @type {Record<string, string>} */
const PLAIN = {
  "−": "-",
  "–": "-",
  "″": '"',
  "”": '"',
  "“": '"',
  "′": "'",
  "’": "'",
  "½": " 1/2",
  "¼": " 1/4",
  "¾": " 3/4",
  "⅛": " 1/8",
  "⅜": " 3/8",
  "⅝": " 5/8",
  "⅞": " 7/8",
};
const FEET = /^(\d+) ?(?:'|ft|feet) ?-? ?(\d[\d ./-]*?) ?(?:"|''|in|inch|inches)?$/i;
const AMOUNT = /^([\d.,][\d.,/ -]*(?:e[+-]?\d+)?) ?([^\d ].*)?$/i;
const MIXED = /^(?:(\d+)(?: ?- ?| ))?(\d+(?:\.\d+)?) ?\/ ?(\d+)$/;
/** Thousands, parted by a sign that can be nothing else there. @type {[string, RegExp][]} */
const PARTED = [
  [",", /^\d{1,3}(?:(?:,\d{3}){2,}(?:\.\d*)?|(?:,\d{3})+\.\d*)$/],
  [".", /^\d{1,3}(?:(?:\.\d{3}){2,}(?:,\d*)?|(?:\.\d{3})+,\d*)$/],
  [" ", /^\d{1,3}(?: \d{3})+(?:[.,]\d*)?$/],
];
const UNSURE = /^[1-9]\d{0,2},\d{3}$/;
const DECIMAL = /^(?:\d+[.,]?\d*|[.,]\d+)(?:e[+-]?\d+)?$/i;

/**
 * Read a typed quantity: 12, 3.5 mm, 1/8, 1 1/4 or 1-1/4, 8' 0 1/2, 29.7e6, 29,700,000, 205 GPa, with a decimal comma
 * if need be. What could be two numbers, as 1,200, is read as neither. The server reads by the same rules
 * (`app/document/typed.py`).
 * @param {string} typed
 * @param {Quantity} quantity
 * @param {System} system the unit where none is typed
 * @returns {number|null} in document units, or null when it is no number of that kind
 */
export function read(typed, quantity, system) {
  const plain = plainly(typed);
  if (plain.length > LONGEST) return null;
  const size = sizeOf(plain.replace(/^[+-] ?/, ""), quantity, system);
  if (size === null || !Number.isFinite(size)) return null;
  return plain.startsWith("-") ? -size : size;
}

/** Whether what is typed could be two numbers: 1,200 may be 1.2 or 1200. @param {string} typed */
export function isUnsure(typed) {
  const amount = AMOUNT.exec(plainly(typed).replace(/^[+-] ?/, ""));
  return amount !== null && UNSURE.test(amount[1].trim());
}

/** @param {string} typed */
function plainly(typed) {
  return [...typed]
    .map((each) => PLAIN[each] ?? each)
    .join("")
    .split(/\s+/)
    .filter(Boolean)
    .join(" ");
}

/** A quantity without its sign. @param {string} plain @param {Quantity} quantity @param {System} system */
function sizeOf(plain, quantity, system) {
  const units = TYPED[quantities[quantity].metric.unit] ?? {};
  const feet = FEET.exec(plain);
  if (feet) {
    const inches = figuresOf(feet[2]);
    return inches === null || units.ft === undefined ? null : Number(feet[1]) * units.ft + inches * units.in;
  }
  const amount = AMOUNT.exec(plain);
  const figures = amount && figuresOf(amount[1].trim());
  if (!amount || figures === null) return null;
  const factor = amount[2] ? units[amount[2].toLowerCase()] : quantities[quantity][system].factor;
  return factor === undefined ? null : figures * factor;
}

/** A number without sign and unit. @param {string} plain */
function figuresOf(plain) {
  const mixed = MIXED.exec(plain);
  if (mixed) return Number(mixed[3]) ? Number(mixed[1] ?? 0) + Number(mixed[2]) / Number(mixed[3]) : null;
  for (const [sign, form] of PARTED) if (form.test(plain)) return Number(plain.replaceAll(sign, "").replace(",", "."));
  return UNSURE.test(plain) || !DECIMAL.test(plain) ? null : Number(plain.replace(",", "."));
}

const CHOICE = "units";

/** The units this person chose last, if any. @returns {System|null} */
export function preferredUnits() {
  try {
    return systemOf(localStorage.getItem(CHOICE));
  } catch {
    return null;
  }
}

/** @param {System} system */
export function preferUnits(system) {
  try {
    localStorage.setItem(CHOICE, system);
  } catch {
    // Private windows may refuse to keep it.
  }
}

/** So many times as much, to two digits. @param {number} ratio @returns {string} */
export function times(ratio) {
  return `${ratio.toFixed(ratio < 9.95 ? 1 : 0)} times`;
}
