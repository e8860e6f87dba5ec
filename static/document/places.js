/**
 * Places in a document, written as the server writes them: `members[2].ends[0].clearance`.
 * @module document/places
 */

/** @typedef {Record<string|number, unknown>|undefined} Tree what has keys, or is not there */

/** @param {string} place @returns {(string|number)[]} */
export function steps(place) {
  return [...place.matchAll(/([^.[\]]+)|\[(\d+)\]/g)].map((match) =>
    match[2] === undefined ? match[1] : Number(match[2]),
  );
}

/** @param {unknown} value @param {string} place @returns {unknown} */
export function valueAt(value, place) {
  return steps(place).reduce((found, step) => /** @type {Tree} */ (found)?.[step], value);
}

/**
 * The document with another value at a place; undefined takes the key away, and its parent when that is left empty.
 * @template T
 * @param {T} value @param {string} place @param {unknown} to
 * @returns {T}
 */
export function withValueAt(value, place, to) {
  return /** @type {T} */ (put(value, steps(place), to));
}

/** @param {unknown} value @param {(string|number)[]} path @param {unknown} to @returns {unknown} */
function put(value, path, to) {
  if (!path.length) return to;
  const [step, ...rest] = path;
  const inner = put(/** @type {Tree} */ (value)?.[step], rest, to);
  if (Array.isArray(value)) return value.map((each, index) => (index === step ? inner : each));
  if (inner === undefined) {
    const { [step]: _, ...others } = /** @type {Tree} */ (value) ?? {};
    return Object.keys(others).length ? others : undefined;
  }
  return { .../** @type {Tree} */ (value), [step]: inner };
}

/**
 * Whether two JSON values are the same, whatever the order of their keys.
 * @param {unknown} a
 * @param {unknown} b
 * @returns {boolean}
 */
export function alike(a, b) {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  const [one, other] = [/** @type {Record<string, unknown>} */ (a), /** @type {Record<string, unknown>} */ (b)];
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => Object.hasOwn(other, key) && alike(one[key], other[key]))
  );
}
