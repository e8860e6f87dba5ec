/**
 * Places in a document, written as the server writes them: `members[2].ends[0].clearance`.
 * @module document/places
 */

/** @param {string} place @returns {(string|number)[]} */
export function steps(place) {
  return [...place.matchAll(/([^.[\]]+)|\[(\d+)\]/g)].map((match) =>
    match[2] === undefined ? match[1] : Number(match[2]),
  );
}

/** @param {any} value @param {string} place */
export function valueAt(value, place) {
  return steps(place).reduce((found, step) => found?.[step], value);
}

/**
 * The document with another value at a place; undefined takes the key away, and its parent when that is left empty.
 * @param {any} value @param {string} place @param {any} to
 */
export function withValueAt(value, place, to) {
  return put(value, steps(place), to);
}

/** @param {any} value @param {(string|number)[]} path @param {any} to @returns {any} */
function put(value, path, to) {
  if (!path.length) return to;
  const [step, ...rest] = path;
  const inner = put(value?.[step], rest, to);
  if (Array.isArray(value)) return value.map((each, index) => (index === step ? inner : each));
  if (inner === undefined) {
    const { [step]: _, ...others } = value ?? {};
    return Object.keys(others).length ? others : undefined;
  }
  return { ...value, [step]: inner };
}

/**
 * Whether two JSON values are the same, whatever the order of their keys.
 * @param {any} a
 * @param {any} b
 * @returns {boolean}
 */
export function alike(a, b) {
  if (a === b) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((key) => key in b && alike(a[key], b[key]));
}
