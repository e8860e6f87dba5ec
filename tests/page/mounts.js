/** Mounts for the tests. */

import { readFileSync, readdirSync } from "node:fs";

const FOLDER = new URL("../../scenarios/", import.meta.url);

/** Every shipped mount by its name. @returns {[string, Mount][]} */
export function shipped() {
  return readdirSync(FOLDER)
    .filter((file) => file.endsWith(".json"))
    .sort()
    .map((file) => [file.replace(/\.json$/, ""), JSON.parse(readFileSync(new URL(file, FOLDER), "utf8"))]);
}

/** A shipped mount, a new one each time. @param {string} name @returns {Mount} */
export function mountNamed(name) {
  return JSON.parse(readFileSync(new URL(`${name}.json`, FOLDER), "utf8"));
}
