/**
 * What of the state a picture is made of, so that what came from beside the numbers repaints no more than shows it.
 * @module core/reading
 */

/** @typedef {import("./store.js").State} State */

/** What comes by itself, from beside the numbers, while the hand may be at something else. @type {Set<string>} */
const BESIDE = new Set(["travel", "search"]);

/**
 * A state that says which of its parts were read.
 * @param {State} state @param {Set<string>} read
 */
export function noting(state, read) {
  return new Proxy(state, {
    get(target, key) {
      read.add(String(key));
      return Reflect.get(target, key);
    },
    ownKeys(target) {
      for (const key of Object.keys(target)) read.add(key);
      return Reflect.ownKeys(target);
    },
  });
}

/**
 * What changed where all of it came from beside the numbers; null where more did, or where nothing did: then whoever
 * set it asks for the picture anew, as for what stands in a field that was typed into in vain.
 * @param {State} state @param {State} before @returns {string[]|null}
 */
export function besideOnly(state, before) {
  const keys = /** @type {(keyof State)[]} */ (Object.keys(state));
  const changed = keys.filter((key) => state[key] !== before[key]);
  return changed.length && changed.every((key) => BESIDE.has(key)) ? changed : null;
}
