/**
 * Drawings and tables that the server writes, saved as files.
 * @module core/exports
 */

import { download, named } from "../document/files.js";
import { asked } from "./server.js";

/** @param {string} path such as `/export/dxf` @param {Worked} question @param {Mount} mount @param {string} ending */
export async function saveFrom(path, question, mount, ending) {
  const answer = await asked(path, question);
  download(await answer.blob(), named(mount, ending));
}
