/**
 * The table of all members taken like a spreadsheet: lines and tabs that are pasted into a cell fill those to the right
 * and below, Ctrl+D or the button fills a cell's value down.
 * @module pages/sketch/tablecells
 */

import { acceptAll, refuse } from "../../core/complaint.js";
import { linesOf, withCells, withFilledDown } from "../../document/cells.js";
import { faultWords } from "../../panels/notices.js";

/** @typedef {{kind: string, row: number, column: number}} Spot */
/** @typedef {HTMLInputElement|HTMLSelectElement} Field */

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../core/editor.js").Editor} editor
 * @returns {() => void} fills down from the cell that had the focus last
 */
export function listenToCells(store, editor) {
  /** @type {Field|null} */
  let last = null;

  document.addEventListener("focusin", ({ target }) => {
    if (isField(target) && spotOf(target)) last = target;
  });

  document.addEventListener("paste", (event) => {
    const { target } = event;
    const text = event.clipboardData?.getData("text/plain") ?? "";
    const spot = isField(target) ? spotOf(target) : null;
    if (!isField(target) || !spot || !/[\t\n]/.test(text.replace(/[\r\n]+$/, ""))) return;
    event.preventDefault();
    take(target, spot, withCells(store.state, spot.kind, spot, linesOf(text)));
  });

  document.addEventListener("keydown", (event) => {
    const { target } = event;
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "d" || !isField(target)) return;
    const spot = spotOf(target);
    if (!spot) return;
    event.preventDefault();
    fill(target, spot);
  });

  /** @param {Field} field @param {Spot} spot */
  function fill(field, spot) {
    take(field, spot, withFilledDown(store.state, spot.kind, spot, field.value.trim()));
  }

  /** @param {Field} field @param {Spot} spot @param {ReturnType<typeof withCells>} made */
  async function take(field, spot, made) {
    if ("bad" in made) {
      const { row, column, why } = made.bad;
      refuse(fieldAt({ ...spot, row, column }) ?? field, why);
      return;
    }
    acceptAll();
    const { mount: before } = store.state;
    const fault = await editor.offer((mount) => (mount === before ? editor.following(mount, made.mount) : mount));
    if (fault) refuse(field, `${faultWords({ ...store.state, mount: made.mount }, fault)}. Nothing was taken.`);
    store.set({});
  }

  return () => {
    const spot = last?.isConnected ? spotOf(last) : null;
    if (last && spot) fill(last, spot);
    else store.set({ message: "Pick a cell of the table first: its value goes into all below it." });
  };
}

/** @param {EventTarget|null} target @returns {target is Field} */
function isField(target) {
  return target instanceof HTMLInputElement || target instanceof HTMLSelectElement;
}

/** @param {Field} field @returns {Spot|null} */
function spotOf(field) {
  const [kind, row, column] = (field.closest("[data-cell]")?.getAttribute("data-cell") ?? "").split("/");
  return kind ? { kind, row: Number(row), column: Number(column) } : null;
}

/** @param {Spot} spot @returns {Field|null} */
function fieldAt({ kind, row, column }) {
  return document.querySelector(`[data-cell="${kind}/${row}/${column}"] :is(input, select)`);
}
