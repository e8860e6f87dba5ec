/**
 * The user's own mounts for a side: from the library, or from a file.
 * @module pages/compare/own
 */

import { answerOf, asked, said } from "../../core/server.js";
import { readDocument } from "../../document/files.js";

/** @typedef {import("./side.js").Side} Side */

/**
 * @param {HTMLInputElement} input that opens a file
 * @param {Object} page
 * @param {(side: Side, mount: Mount, command?: Record<string, number>) => void} page.put
 * @param {(words: string) => void} page.failed
 * @param {() => System} page.system
 * @returns {(side: Side, choice: string) => Promise<void>} what to do with a choice: a kept id, or "file"
 */
export function ownMounts(input, page) {
  /** The side a file is being opened for. @type {Side|null} */
  let onto = null;

  input.addEventListener("change", async () => {
    const file = input.files?.[0];
    input.value = "";
    const side = onto;
    if (!file || !side) return;
    await trying(async () => {
      const mount = await readDocument(file);
      await asked("/readout", { mount, command: {} });
      page.put(side, mount);
    });
  });

  /** @param {() => Promise<void>} doing */
  async function trying(doing) {
    try {
      await doing();
    } catch (error) {
      page.failed(`It was not opened. ${said(error, page.system())}`);
    }
  }

  return async (side, choice) => {
    if (choice === "file") {
      onto = side;
      input.click();
      return;
    }
    await trying(async () => {
      const { mount, command } = await answerOf(`/library/${choice}`);
      page.put(side, mount, command);
    });
  };
}
