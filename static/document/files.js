/**
 * What goes out and comes in: the document, a link, the drawing and the table.
 * @module document/files
 */

import { LARGEST, fromJson } from "./json.js";
import { address } from "./link.js";

/** @param {Blob} blob @param {string} name */
export function download(blob, name) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** @param {{title: string}} document @param {string} ending */
export function named({ title }, ending) {
  const stem = title
    .normalize("NFKD")
    .replace(/[^\w-]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 60)
    .toLowerCase();
  return `${stem || "mount"}.${ending}`;
}

/** The document as a file that opens again here. @param {Mount} mount */
export function saveDocument(mount) {
  download(new Blob([`${JSON.stringify(mount, null, 1)}\n`], { type: "application/json" }), named(mount, "json"));
}

/**
 * The mount, or what else, in a file of the user's: nobody has read yet what it is made of.
 * @param {File} file @param {string} [what] it should hold @returns {Promise<Mount>} @throws {Error} in words
 */
export async function readDocument(file, what = "a mount document") {
  if (file.size > LARGEST)
    throw new Error(`'${file.name}' is larger than ${LARGEST / 1024} kB: too large for ${what}.`);
  try {
    return /** @type {Mount} */ (fromJson(await file.text()));
  } catch (error) {
    const where = error instanceof Error ? ` (${error.message})` : "";
    throw new Error(`'${file.name}' is not ${what}: it cannot be read as JSON${where}.`, { cause: error });
  }
}

/**
 * Put a link that carries the mount on the clipboard.
 * @param {Mount} mount @param {Command} command
 * @returns {Promise<string|null>} the link itself where the browser gives no clipboard, to be copied by hand
 */
export async function copyLink(mount, command) {
  const link = await address("/", { m: { mount, command } });
  try {
    await navigator.clipboard.writeText(link);
    return null;
  } catch {
    return link;
  }
}
