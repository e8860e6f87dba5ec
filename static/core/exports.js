/**
 * Drawings and tables that the server writes, saved as files.
 * @module core/exports
 */

import { download, named } from "../document/files.js";
import { asked } from "./server.js";

/**
 * @param {string} format such as `dxf` @param {Worked & Choices} question @param {Mount} mount
 * @typedef {{system?: string, pose?: "drawn"|"worked", paper?: string, scale?: string}} Choices
 */
export async function saveFrom(format, question, mount) {
  const answer = await asked(`/export/${format}`, question);
  download(await answer.blob(), fileName(mount, format, question.pose));
}

/**
 * What a file is called: a drawing says which pose it shows.
 * @param {Mount} mount @param {string} format @param {"drawn"|"worked"} [pose]
 */
export function fileName(mount, format, pose) {
  const name = named(mount, format);
  return pose ? name.replace(/\.[^.]*$/, (ending) => `-${pose}${ending}`) : name;
}
