/**
 * Units at the page's edge: everything inside is mm, N, MPa, kg. Factors exact, as in app/units.py.
 * @module values/units
 */

export const MM_PER_INCH = 25.4;
export const KG_PER_POUND = 0.45359237;
export const NEWTON_PER_LBF = KG_PER_POUND * 9.80665;
export const MPA_PER_PSI = NEWTON_PER_LBF / (MM_PER_INCH * MM_PER_INCH);

/** @typedef {"metric"|"inch"} System */
/** @typedef {"error"|"length"|"fine"|"ratio"|"percent"|"angle"|"area"|"volume"|"flow"|"speed"} Extent */
/** @typedef {Extent|"force"|"pressure"|"modulus"|"mass"} Quantity */

const GALLON_PER_MINUTE = (231 * MM_PER_INCH ** 3) / 1e6;

/** @type {Record<System, Record<Quantity, {unit: string, factor: number, digits: number}>>} */
const TABLE = {
  metric: {
    error: { unit: "mm", factor: 1, digits: 2 },
    length: { unit: "mm", factor: 1, digits: 0 },
    fine: { unit: "mm", factor: 1, digits: 1 },
    force: { unit: "kN", factor: 1000, digits: 2 },
    pressure: { unit: "MPa", factor: 1, digits: 1 },
    modulus: { unit: "MPa", factor: 1, digits: 0 },
    mass: { unit: "kg", factor: 1, digits: 0 },
    ratio: { unit: "", factor: 1, digits: 2 },
    percent: { unit: "%", factor: 0.01, digits: 2 },
    angle: { unit: "°", factor: 1, digits: 2 },
    area: { unit: "mm²", factor: 1, digits: 0 },
    volume: { unit: "mL", factor: 1, digits: 1 },
    flow: { unit: "L/min", factor: 1, digits: 1 },
    speed: { unit: "mm/s", factor: 1, digits: 0 },
  },
  inch: {
    error: { unit: "in", factor: MM_PER_INCH, digits: 3 },
    length: { unit: "in", factor: MM_PER_INCH, digits: 1 },
    fine: { unit: "in", factor: MM_PER_INCH, digits: 2 },
    force: { unit: "lbf", factor: NEWTON_PER_LBF, digits: 0 },
    pressure: { unit: "psi", factor: MPA_PER_PSI, digits: 0 },
    modulus: { unit: "psi", factor: MPA_PER_PSI, digits: 0 },
    mass: { unit: "lb", factor: KG_PER_POUND, digits: 0 },
    ratio: { unit: "", factor: 1, digits: 2 },
    percent: { unit: "%", factor: 0.01, digits: 2 },
    angle: { unit: "°", factor: 1, digits: 2 },
    area: { unit: "in²", factor: MM_PER_INCH ** 2, digits: 2 },
    volume: { unit: "in³", factor: MM_PER_INCH ** 3 / 1000, digits: 2 },
    flow: { unit: "gal/min", factor: GALLON_PER_MINUTE, digits: 2 },
    speed: { unit: "in/s", factor: MM_PER_INCH, digits: 1 },
  },
};

/**
 * Units that may be typed after a number, by the unit a document keeps: factor to it.
 * @type {Record<string, Record<string, number>>}
 */
const TYPED = {
  mm: {
    mm: 1,
    cm: 10,
    m: 1000,
    in: MM_PER_INCH,
    inch: MM_PER_INCH,
    inches: MM_PER_INCH,
    '"': MM_PER_INCH,
    ft: 12 * MM_PER_INCH,
    "'": 12 * MM_PER_INCH,
  },
  kN: { n: 1, kn: 1000, lbf: NEWTON_PER_LBF },
  MPa: { mpa: 1, gpa: 1000, bar: 0.1, kpa: 0.001, psi: MPA_PER_PSI },
  kg: { kg: 1, t: 1000, lb: KG_PER_POUND, lbs: KG_PER_POUND },
  mL: { ml: 1, l: 1000, "in³": MM_PER_INCH ** 3 / 1000, in3: MM_PER_INCH ** 3 / 1000 },
  "mm²": { "mm²": 1, mm2: 1, "in²": MM_PER_INCH ** 2, in2: MM_PER_INCH ** 2 },
  "L/min": { "l/min": 1, "gal/min": GALLON_PER_MINUTE },
  "°": { "°": 1, deg: 1 },
};

export const DASH = "–";
const MINUS = "−";

/** Grid steps offered, in mm. @type {Record<System, {label: string, step: number}[]>} */
export const GRIDS = {
  metric: [1, 5, 10, 25, 50].map((step) => ({ label: `${step} mm`, step })),
  inch: [
    ["1/16 in", 1 / 16],
    ["1/8 in", 1 / 8],
    ["1/4 in", 1 / 4],
    ["1 in", 1],
    ["2 in", 2],
  ].map(([label, step]) => ({ label: String(label), step: Number(step) * MM_PER_INCH })),
};

/** @param {Quantity} quantity @param {System} system */
export function unit(quantity, system) {
  return TABLE[system][quantity].unit;
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
  const { factor, digits } = TABLE[system][quantity];
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
  return value * TABLE[system][quantity].factor;
}

/**
 * From document units to a plain number for an entry field.
 * @param {number} value
 * @param {Quantity} quantity
 * @param {System} system
 */
export function outward(value, quantity, system) {
  const shown = value / TABLE[system][quantity].factor;
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
  const factor = named ? TYPED[TABLE.metric[quantity].unit]?.[named.toLowerCase()] : TABLE[system][quantity].factor;
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
