/**
 * Units at the page's edge: everything inside is mm, N, MPa, kg. Units, exact factors and decimals are the server's.
 * @module values/units
 */

import { vocabulary } from "./vocabulary.js";

/** @typedef {"metric"|"inch"} System */
/** @typedef {"error"|"length"|"fine"|"ratio"|"percent"|"angle"|"area"|"volume"|"flow"|"speed"|"count"} Extent */
/** @typedef {Extent|"force"|"pressure"|"modulus"|"mass"|"stiffness"} Quantity */

const { quantities, typed: TYPED } = vocabulary;

export const MM_PER_INCH = quantities.fine.inch.factor;

export const DASH = "–";
const MINUS = "−";

/** Grid steps offered, in mm. @param {System} system @returns {{label: string, step: number}[]} */
export function gridSteps(system) {
  return Object.entries(vocabulary.length_steps[system]).map(([label, step]) => ({ label, step }));
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

/**
 * From document units to a plain number for an entry field.
 * @param {number} value
 * @param {Quantity} quantity
 * @param {System} system
 */
export function outward(value, quantity, system) {
  const shown = value / quantities[quantity][system].factor;
  return String(Number(shown.toFixed(system === "inch" ? 4 : 3)));
}

/**
 * Read a typed quantity: 12, 3.5 mm, 0.14 in, 1/8, 1 1/4 or 1-1/4, 2' 9", with a decimal comma if need be. A comma
 * before exactly three digits might part thousands and is not read.
 * @param {string} typed
 * @param {Quantity} quantity
 * @param {System} system the unit where none is typed
 * @returns {number|null} in document units, or null when it is no number of that kind
 */
export function read(typed, quantity, system) {
  const plain = typed.trim().replace(/[−–]/g, "-").replace(/[″”]/g, '"').replace(/[′’]/g, "'");
  const feet = plain.match(/^([+-]?)\s*(\d+)\s*(?:'|ft)\s*(\d[^'"]*?)\s*(?:"|in)$/i);
  if (feet) {
    const inches = read(`${feet[3]} in`, quantity, system);
    return inches === null ? null : (feet[1] === "-" ? -1 : 1) * (Number(feet[2]) * 12 * MM_PER_INCH + inches);
  }
  if (/[1-9]\d{0,2},\d{3}(?!\d)/.test(plain)) return null;
  const match = plain
    .replace(/(\d),(\d)/g, "$1.$2")
    .replace(/(\d)-(\d+\s*\/)/, "$1 $2")
    .match(/^([+-]?)\s*(?:(\d+)\s+)?(\d*\.?\d+|\d+\.)(?:\s*\/\s*(\d+))?\s*([a-z'"°²³/]*[23]?)$/i);
  if (!match) return null;
  const [, sign, whole, top, bottom, named] = match;
  if (Number(bottom ?? 1) === 0 || (whole && !bottom)) return null;
  const size = Number(whole ?? 0) + Number(top) / Number(bottom ?? 1);
  const factor = named
    ? TYPED[quantities[quantity].metric.unit]?.[named.toLowerCase()]
    : quantities[quantity][system].factor;
  if (factor === undefined) return null;
  const value = (sign === "-" ? -size : size) * factor;
  return Number.isFinite(value) ? value : null;
}

const CHOICE = "units";

/** The units this person chose last, if any. @returns {System|null} */
export function preferredUnits() {
  try {
    const chosen = localStorage.getItem(CHOICE);
    return chosen === "inch" || chosen === "metric" ? chosen : null;
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
