/**
 * What is typed and slid on the page: numbers for both mounts, the ends, the correction that is asked for.
 * @module pages/compare/typing
 */

import { accept, refuse, refuseNumber } from "../../core/complaint.js";
import { isUntouched, taken, whileAsked } from "../../core/entry.js";
import { filled } from "../../values/messages.js";
import { read } from "../../values/units.js";
import { BOTH } from "./both.js";
import { widenedWords } from "./widening.js";

/** @typedef {import("./side.js").Side} Side */
/**
 * @typedef {Object} Typing
 * @property {{a: Side, b: Side}} sides
 * @property {(change: Partial<import("./ends.js").Heights>) => void} ask
 * @property {() => void} keepAddress
 * @property {(change: Partial<import("./wanted.js").Wanted>) => void} want
 * @property {(side: Side, choice: string) => Promise<void>} own
 * @property {(target: Element) => Side|null} sideOf
 * @property {() => void} changed
 * @property {(to: number) => void} wear
 * @property {() => import("./widening.js").Carry} carry
 * @property {(change: Partial<import("./widening.js").Carry>) => void} carrying
 * @property {(words: string[]) => void} tell
 */

/** The largest correction that can be asked for, mm. */
const FARTHEST_MM = 10_000;

/** @param {Typing} page */
export function listenToTyping(page) {
  const { sides } = page;
  document.addEventListener("input", ({ target }) => {
    if (!(target instanceof HTMLInputElement) || !target.dataset.end) return;
    page.ask({ [target.dataset.end]: target.valueAsNumber });
  });
  document.addEventListener("change", (event) => {
    const target = /** @type {HTMLInputElement} */ (event.target);
    const side = page.sideOf(target);
    if (target.dataset.own !== undefined && target.value && side) {
      page.own(side, target.value);
      target.value = "";
    }
    const { end, endTyped, both, rise, carry } = target.dataset;
    if (carry) page.carrying({ [carry]: target.value });
    if (end) page.keepAddress();
    if (both) typedForBoth(page, target);
    if (target.dataset.worn !== undefined) typedNumber(target, "error", page.wear);
    if (rise !== undefined) typedNumber(target, "error", (value) => page.want({ rise: value }));
    if (endTyped) typedNumber(target, "fine", (value) => page.ask({ [endTyped]: value }));
  });
  document.addEventListener("keydown", (event) => {
    const { dataset } = /** @type {HTMLElement} */ (event.target);
    if (
      event.key === "Enter" &&
      (dataset.endTyped || dataset.both || dataset.rise !== undefined || dataset.worn !== undefined)
    )
      event.target?.dispatchEvent(new Event("change", { bubbles: true }));
  });

  /**
   * @param {HTMLInputElement} input @param {import("../../values/units.js").Quantity} quantity
   * @param {(value: number) => void} put
   */
  function typedNumber(input, quantity, put) {
    if (isUntouched(input)) return;
    const value = read(input.value, quantity, sides.a.store.state.system);
    if (value === null || Math.abs(value) > FARTHEST_MM) {
      refuseNumber(input);
      return;
    }
    accept(input);
    taken(input);
    put(value);
  }
}

/** @param {Typing} page @param {HTMLInputElement} input */
async function typedForBoth(page, input) {
  const { put: putting, quantity } = BOTH[/** @type {import("./both.js").Key} */ (input.dataset.both)];
  const carry = page.carry();
  const put = (/** @type {Mount} */ mount, /** @type {number} */ value) => putting(mount, value, carry);
  const both = [page.sides.a, page.sides.b];
  const { system } = both[0].store.state;
  if (isUntouched(input)) return;
  const value = read(input.value, quantity, system);
  if (value === null) {
    refuseNumber(input);
    return;
  }
  accept(input);
  await whileAsked(input, async () => {
    for (const side of both) {
      const fault = await side.editor.faultOf(put(side.store.state.mount, value));
      side.editor.ask();
      if (!fault) continue;
      refuse(input, `${side.name.toUpperCase()}: ${filled(fault, system)}`);
      return false;
    }
    const before = both.map(({ store }) => store.state.mount);
    for (const { editor, store } of both) editor.change(put(store.state.mount, value));
    if (input.dataset.both === "width")
      page.tell(
        both.map(({ name, store }, index) =>
          widenedWords(name.toUpperCase(), before[index], store.state.mount, carry, system),
        ),
      );
    return true;
  });
  page.changed();
}
