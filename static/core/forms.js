/**
 * What is typed: taken over, taken away when empty, or refused in place, in words.
 * @module core/forms
 */

import { answerOf, said } from "./server.js";
import { NO_NUMBER, accept, refuse } from "./complaint.js";
import { renamedBody } from "../document/draw.js";
import { alikeField } from "../document/mirror.js";
import { withField } from "../document/edits.js";
import { faultWords } from "../panels/notices.js";
import { gridSteps, read } from "../values/units.js";

/** The choice of no grid and no guides. */
const FREE = "free";

/**
 * @param {import("./store.js").Store} store
 * @param {import("./editor.js").Editor} editor
 * @param {HTMLSelectElement} grid
 */
export function listenToForms(store, editor, grid) {
  document.addEventListener("input", (event) => {
    const target = /** @type {HTMLInputElement} */ (event.target);
    if ("demoTimes" in target.dataset) store.set({ demo: { ...store.state.demo, times: target.valueAsNumber } });
    if (target.dataset.stroke) editor.stroke(target.dataset.stroke, target.valueAsNumber);
  });
  /** The field whose typing Escape throws away. @type {HTMLInputElement|null} */
  let dropped = null;
  document.addEventListener(
    "change",
    (event) => event.target !== dropped && changed(/** @type {HTMLInputElement} */ (event.target)),
  );
  document.addEventListener("keydown", (event) => {
    const target = event.target;
    if (!(target instanceof HTMLInputElement) || target.type === "range") return;
    const takeBack = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z" && untouched(target);
    if (takeBack) {
      event.preventDefault();
      editor.step(event.shiftKey ? 1 : -1);
    }
    if (event.key === "Enter") target.dispatchEvent(new Event("change", { bubbles: true }));
    if (event.key === "Escape") {
      accept(target);
      dropped = target;
      target.blur();
      dropped = null;
      if (target.closest("#picked"))
        /** @type {SVGElement|null} */ (
          document.querySelector(`[data-handle="${CSS.escape(store.state.picked ?? "")}"]`)
        )?.focus();
      store.set({});
    }
  });

  /** @param {HTMLInputElement} target */
  function changed(target) {
    const { stroke, strokeTyped, coordinate, field, place, preset, nominal, fit, body } = target.dataset;
    const { mount, gradings } = store.state;
    if (untouched(target)) {
      accept(target);
      return;
    }
    if (target.id === grid.id)
      store.set(grid.value === FREE ? { snap: false } : { snap: true, grid: Number(grid.value) });
    else if (stroke) editor.finish();
    else if (field === "title") offered(target, (now) => ({ ...now, title: target.value.trim() }));
    else if (preset && target.value) editor.change({ ...mount, tolerance: gradings[Number(target.value)].tolerance });
    else if (fit && target.value) editor.change(withField(store.state, `${fit}.clearance`, Number(target.value)).mount);
    else if (nominal) askFits(target);
    else if (body) offered(target, (now) => renamedBody(now, body, target.value.trim()));
    else if (place) typedField(target, place);
    else if (strokeTyped || coordinate || field === "tolerance") typedNumber(target);
  }

  /** @param {HTMLInputElement} input */
  function typedNumber(input) {
    const { strokeTyped, coordinate, field } = input.dataset;
    const { state } = store;
    if (field && input.value.trim() === "") {
      const { tolerance: _, ...rest } = state.mount;
      editor.change(rest);
      return;
    }
    const value = accepted(input, read(input.value, field ? "error" : "fine", state.system));
    if (value === null) return;
    if (strokeTyped) {
      editor.stroke(strokeTyped, value);
      editor.finish();
    } else if (coordinate) offered(input, () => editor.placed(coordinate === "x" ? 0 : 1, value));
    else offered(input, (now) => ({ ...now, tolerance: value }));
  }

  /**
   * Take a typed change over, or say beside its field why not.
   * @param {HTMLInputElement} input
   * @param {(mount: any) => any} make
   */
  async function offered(input, make) {
    input.dataset.filled = input.value;
    await editor.offer(make, (fault) => {
      delete input.dataset.filled;
      refuse(input, faultWords(store.state, fault));
    });
  }

  /** @param {HTMLInputElement} input @param {string} place */
  function typedField(input, place) {
    const { state } = store;
    const { quantity } = input.dataset;
    const words = input.value.trim();
    const value =
      quantity === "words"
        ? words
        : words === ""
          ? undefined
          : accepted(input, read(words, /** @type {any} */ (quantity), state.system));
    if (value === null) return;
    accept(input);
    store.set({ drafts: withField(state, place, value).drafts });
    offered(input, (mount) => alikeField(store.state, withField({ ...state, mount }, place, value).mount, place));
  }

  /** The fits at a pin diameter, from the server's tables. @param {HTMLInputElement} input */
  async function askFits(input) {
    const nominal = accepted(input, read(input.value, "fine", store.state.system));
    if (nominal === null) return;
    try {
      const fits = await answerOf(`/fits/${Number(Math.abs(nominal).toFixed(4))}`);
      store.set({ fits: { nominal, fits } });
    } catch (error) {
      refuse(input, said(error, store.state.system));
      store.set({ fits: null });
    }
  }
}

/** Whether a field still shows what the document says. @param {HTMLInputElement} input */
function untouched(input) {
  return input.dataset.filled !== undefined && input.dataset.filled === input.value;
}

/** @param {HTMLInputElement} input @param {number|null} value */
function accepted(input, value) {
  if (value === null) refuse(input, NO_NUMBER);
  else accept(input);
  return value;
}

/**
 * Offer the grid steps of a unit system.
 * @param {HTMLSelectElement} grid
 * @param {"metric"|"inch"} system
 * @returns {number} the step chosen
 */
export function offerGrids(grid, system) {
  const steps = gridSteps(system);
  grid.replaceChildren(...steps.map(({ label, step }) => new Option(label, String(step))), new Option("no snap", FREE));
  grid.value = String(steps[2].step);
  return steps[2].step;
}
