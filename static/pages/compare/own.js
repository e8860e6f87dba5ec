/**
 * The user's own mounts for a side: from the library, or from a file.
 * @module pages/compare/own
 */

import { readDocument, said } from "../../document/files.js";

/** @typedef {import("./side.js").Side} Side */

/**
 * @param {HTMLInputElement} input that opens a file
 * @param {{put: (side: Side, mount: any, command?: Record<string, number>) => void, failed: (words: string) => void}}
 *   page
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
      await asked("/readout", {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify({ mount, command: {} }),
      });
      page.put(side, mount);
    });
  });

  /** @param {() => Promise<void>} doing */
  async function trying(doing) {
    try {
      await doing();
    } catch (error) {
      page.failed(said(error));
    }
  }

  return async (side, choice) => {
    if (choice === "file") {
      onto = side;
      input.click();
      return;
    }
    await trying(async () => {
      const { mount, command } = await asked(`/shelf/${choice}`);
      page.put(side, mount, command);
    });
  };
}

/** @param {string} path @param {RequestInit} [how] */
async function asked(path, how) {
  const answer = await fetch(path, how);
  const body = await answer.json();
  if (!answer.ok) throw new Error(`It was not opened: ${body.error.faults[0].message}`);
  return body;
}
