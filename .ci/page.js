/** What the page's modules find in every page: the server's vocabulary, written here by .ci/run. */

import { readFileSync } from "node:fs";

const vocabulary = readFileSync(new URL("vocabulary.json", import.meta.url), "utf8");

globalThis.document ??= /** @type {any} any: only what the modules under test ask of it */ ({
  getElementById: (/** @type {string} */ id) => (id === "vocabulary" ? { textContent: vocabulary } : null),
});
