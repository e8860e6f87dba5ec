/**
 * The other mount of a pair, remembered while one of the two is on the sheet, so that side by side finds both again.
 * @module core/pairing
 */

const KEY = "pair";

/** @param {"a"|"b"} name of the side that is sketched @param {{mount: Mount, command: Command}} other */
export function rememberPair(name, { mount, command }) {
  try {
    sessionStorage.setItem(KEY, JSON.stringify({ name, other: { mount, command } }));
  } catch {
    // Without a store the pair is made anew.
  }
}

/**
 * The pair with what is on the sheet in its place.
 * @param {{mount: Mount, command: Command}} mine
 * @returns {Record<string, {mount: Mount, command: Command}>}
 */
export function pairWith(mine) {
  try {
    const { name, other } = JSON.parse(sessionStorage.getItem(KEY) ?? "null");
    return name === "b" ? { a: other, b: mine } : { a: mine, b: other };
  } catch {
    return { a: mine };
  }
}
