/**
 * A link that carries a whole mount in its fragment: nothing is stored on a server. JSON, deflated, in URL-safe base64.
 * @module document/link
 */

import { LARGEST, fromJson } from "./json.js";

const LONGEST = 200_000;
const LONGEST_TYPED = 20_000;
const UNREAD = "This link carries no mount that can be read: it may have been cut short. Ask for it again.";
const TOO_MUCH =
  `This link carries something else than a mount: it unfolds to more than ${LARGEST / 1024} kB, ` +
  "or is nested far too deeply. Ask whoever sent it what it is.";

/** @typedef {{left: number, right: number}} Heights mm, + upward */
/** @typedef {{title: string, note: string}} Typed */

/** @param {unknown} value plain JSON @returns {Promise<string>} */
export async function pack(value) {
  const packed = await through(new Blob([JSON.stringify(value)]), new CompressionStream("deflate-raw"));
  let text = "";
  for (let at = 0; at < packed.length; at += 0x8000) text += String.fromCharCode(...packed.subarray(at, at + 0x8000));
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

/**
 * @param {string} text as `pack` wrote it @returns {Promise<unknown>}
 * @throws {Error} with a sentence for the user when it is no packed value
 */
export async function unpack(text) {
  try {
    if (text.length > LONGEST) throw new Error("too long");
    const bytes = Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (letter) =>
      letter.charCodeAt(0),
    );
    const plain = await through(new Blob([bytes]), new DecompressionStream("deflate-raw"), LARGEST);
    return fromJson(new TextDecoder("utf-8", { fatal: true }).decode(plain));
  } catch (error) {
    throw new Error(error instanceof RangeError ? TOO_MUCH : UNREAD, { cause: error });
  }
}

/**
 * The mount a part of a link carries, and where its cylinders are worked to: nobody has read yet what it is made of.
 * @param {string} text @returns {Promise<Worked>} @throws {Error} with a sentence for the user when there is none
 */
export async function unpackMount(text) {
  const found = /** @type {Partial<Worked>|null} */ (await unpack(text));
  if (!found?.mount) throw new Error(UNREAD);
  return { mount: found.mount, command: found.command ?? {} };
}

/**
 * A name for what a link carries, the same each time it is opened.
 * @param {Worked} carried @returns {string}
 */
export function keyOf({ mount, command }) {
  const text = JSON.stringify({ mount, command });
  const sums = [1, 2, 3, 4].map((seed) => {
    let sum = seed;
    for (let at = 0; at < text.length; at += 1) sum = Math.imul(sum ^ text.charCodeAt(at), 0x01000191 + 2 * seed);
    return (sum >>> 0).toString(16).padStart(8, "0");
  });
  return `link-${sums.join("")}`;
}

/**
 * @param {Blob} blob @param {CompressionStream|DecompressionStream} stream @param {number} [most] bytes to come out
 * @returns {Promise<Uint8Array>} @throws {RangeError} as soon as more come
 */
async function through(blob, stream, most = Infinity) {
  const pieces = [];
  let size = 0;
  const reader = blob.stream().pipeThrough(stream).getReader();
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    pieces.push(next.value);
    size += next.value.length;
    if (size > most) {
      reader.cancel();
      throw new RangeError("too much");
    }
  }
  return new Uint8Array(await new Blob(pieces).arrayBuffer());
}

/** The named parts of a fragment such as `#m=...&n=...`. @param {string} hash @returns {Map<string, string>} */
export function parts(hash) {
  return new Map(
    hash
      .replace(/^#/, "")
      .split("&")
      .filter((part) => part.includes("="))
      .map(
        (part) =>
          /** @type {[string, string]} */ ([part.slice(0, part.indexOf("=")), part.slice(part.indexOf("=") + 1)]),
      ),
  );
}

/**
 * The address of a page with a mount on board.
 * @param {string} path such as `/handout`
 * @param {Record<string, {mount: Mount, command?: Command}>} aboard by name of the part
 * @param {string} [system] of units the page is to open in
 * @param {{ends?: Heights|null, typed?: Typed|null, wanted?: string, kept?: string|null, choices?: string,
 *   run?: string|null}} [more] what is asked of the ends, what was typed on a handout, the correction two mounts are
 *   asked for, which kept comparison it is, what was chosen beside them, and the run, packed
 */
export async function address(path, aboard, system = "metric", { ends, typed, wanted, kept, choices, run } = {}) {
  const packed = await Promise.all(Object.entries(aboard).map(async ([name, value]) => `${name}=${await pack(value)}`));
  if (ends && (ends.left || ends.right)) packed.push(`e=${ends.left},${ends.right}`);
  if (typed) packed.push(typedPart(typed));
  if (wanted) packed.push(`r=${wanted}`);
  if (kept) packed.push(`k=${kept}`);
  if (choices) packed.push(`x=${choices}`);
  if (run) packed.push(`g=${run}`);
  return `${location.origin}${path}#${[...packed, ...(system === "metric" ? [] : [`u=${system}`])].join("&")}`;
}

/**
 * What a link asks of the ends, mm above where they were drawn.
 * @param {Map<string, string>} aboard
 * @returns {Heights}
 */
export function endsAboard(aboard) {
  const [left, right] = (aboard.get("e") ?? "").split(",").map(Number);
  return { left: Number.isFinite(left) ? left : 0, right: Number.isFinite(right) ? right : 0 };
}

/**
 * What was typed on the handout of this very link.
 * @param {Map<string, string>} aboard
 * @returns {Typed|null}
 */
export function typedAboard(aboard) {
  try {
    const packed = aboard.get("t") ?? "";
    if (packed.length > LONGEST_TYPED) return null;
    const { title, note } = /** @type {Partial<Typed>} */ (fromJson(decodeURIComponent(packed)));
    return typeof title === "string" && typeof note === "string" ? { title, note } : null;
  } catch {
    return null;
  }
}

/** @param {Typed} typed */
function typedPart(typed) {
  return `t=${encodeURIComponent(JSON.stringify(typed))}`;
}

/** The fragment of an address with something else typed on its handout. @param {string} hash @param {Typed} typed */
export function withTyped(hash, typed) {
  const others = hash
    .replace(/^#/, "")
    .split("&")
    .filter((part) => part && !part.startsWith("t="));
  return `#${[...others, typedPart(typed)].join("&")}`;
}
