/**
 * What is typed: taken over, taken away when empty, or refused in place, in words.
 * @module pages/sketch/forms
 */

import { accept, refuse, refuseNumber } from "../../core/complaint.js";
import { isUntouched, taken, whileAsked } from "../../core/entry.js";
import { MOST_GUESS, withTyped } from "../../core/guesses.js";
import { questionOf } from "../../core/questions.js";
import { renamedBody } from "../../document/draw.js";
import { withField } from "../../document/edits.js";
import { preferFollowing } from "../../document/lengths.js";
import { alikeField } from "../../document/mirror.js";
import { faultWords } from "../../panels/notices.js";
import { spannedEnd } from "../../document/spans.js";
import { jointId } from "../../values/joint.js";
import { gridSteps, read } from "../../values/units.js";
import { answerOf, said } from "../../core/server.js";
import { wishForms } from "./wishforms.js";

/** @typedef {import("../../core/entry.js").Entry} Entry */

/** The choice of no grid and no guides. */
const FREE = "free";
/** The place of a joint's coordinate in the document. */
const COORDINATE = /^members.*\.at\[[01]\]$/;

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../core/editor.js").Editor} editor
 */
export function listenToForms(store, editor) {
  /** What a change in a field means, by the attribute that says what the field is for. The first that fits counts. */
  const changes = /** @type {Record<string, (entry: Entry, what: string) => void>} */ ({
    grid: ({ value }) => store.set(value === FREE ? { snap: false } : { snap: true, grid: Number(value) }),
    field: (entry, what) => (what === "title" ? typedTitle(entry) : typedTolerance(entry)),
    preset: ({ value }) => {
      const { mount, gradings } = store.state;
      if (value) editor.change({ ...mount, tolerance: gradings[Number(value)].tolerance });
    },
    fit: ({ value }, joint) => {
      if (value) editor.change(withField(store.state, `${joint}.clearance`, Number(value)).mount);
    },
    nominal: askFits,
    size: (entry, place) => {
      if (entry.value) offerAt(entry, place, Number(entry.value));
    },
    follow: ({ value }) => {
      preferFollowing(value === "follow");
      store.set({ follow: value === "follow" });
    },
    body: (entry, body) => {
      const name = entry.value.trim();
      offer(entry, (mount) => renamedBody(mount, body, name));
    },
    place: typedField,
    strokeTyped: (entry, id) => {
      const move = lengthIn(entry);
      if (move === null) return;
      taken(entry);
      editor.stroke(id, move);
      editor.finish();
    },
    travel: ({ value }, what) => store.set(({ shownTravel }) => ({ shownTravel: { ...shownTravel, [what]: value } })),
    held: (entry, index) => {
      const size = lengthIn(entry);
      if (size !== null) offer(entry, () => editor.sized(Number(index), Math.abs(size)));
    },
    length: (entry, id) => {
      const length = lengthIn(entry);
      if (length === null) return;
      offer(entry, (mount) => {
        const to = spannedEnd(mount, jointId(id, 2), false, { length: Math.abs(length) });
        return to ? editor.withMoved(to.name, to.at) : mount;
      });
    },
    moving: ({ value }) => store.set({ otherEnd: value === "other" }),
    span: (entry, what) => {
      const value = accepted(entry, read(entry.value, what === "angle" ? "angle" : "fine", store.state.system));
      if (value !== null) offer(entry, () => editor.spanned(what === "angle" ? { angle: value } : { length: value }));
    },
    guessTyped: (entry) => {
      const question = questionOf(store.state);
      const guess = question && accepted(entry, read(entry.value, question.quantity, store.state.system));
      if (!question || guess === null || Math.abs(guess) > MOST_GUESS) return;
      entry.value = "";
      taken(entry);
      store.set(({ demo }) => ({ demo: { ...demo, guesses: withTyped(demo.guesses, question.words, guess) } }));
    },
    ...wishForms(store),
    coordinate: (entry, axis) => {
      const value = lengthIn(entry);
      if (value !== null) offer(entry, () => editor.placed(axis === "x" ? 0 : 1, value));
    },
  });

  document.addEventListener("input", ({ target }) => {
    if (!(target instanceof HTMLInputElement)) return;
    if ("demoTimes" in target.dataset) {
      const times = target.valueAsNumber;
      store.set(({ demo }) => ({ demo: { ...demo, times } }));
    }
    if (target.dataset.stroke) editor.stroke(target.dataset.stroke, target.valueAsNumber);
  });

  /** Whether a slider was moved by its arrow keys last. */
  let arrowed = false;
  document.addEventListener("pointerdown", () => (arrowed = false));

  /** The field whose typing Escape throws away. @type {HTMLInputElement|null} */
  let dropped = null;
  document.addEventListener("change", ({ target }) => {
    if (target !== dropped && (target instanceof HTMLInputElement || target instanceof HTMLSelectElement))
      changed(target);
  });

  document.addEventListener("keydown", (event) => {
    const { target } = event;
    if (!(target instanceof HTMLInputElement)) return;
    arrowed = event.key.startsWith("Arrow");
    if (target.type === "range") return;
    const takeBack = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z" && isUntouched(target);
    if (takeBack) {
      event.preventDefault();
      editor.step(event.shiftKey ? 1 : -1);
    }
    if (event.key === "Enter") changed(target);
    if (event.key === "Escape") drop(target);
  });

  /** Leave a field as it was, and go back to the joint it is about. @param {HTMLInputElement} entry */
  function drop(entry) {
    accept(entry);
    dropped = entry;
    entry.blur();
    dropped = null;
    if (entry.closest("#picked")) {
      const joint = document.querySelector(`[data-handle="${CSS.escape(store.state.picked ?? "")}"]`);
      if (joint instanceof SVGElement) joint.focus();
    }
    store.set({});
  }

  /** @param {Entry} entry */
  function changed(entry) {
    if ("wallPage" in entry.dataset) {
      const lines = Number(entry.value);
      store.set(({ demo }) => ({ demo: { ...demo, lines } }));
      return;
    }
    if (entry.dataset.stroke) {
      editor.finish(arrowed ? `stroke ${entry.dataset.stroke}` : null);
      return;
    }
    if (isUntouched(entry)) {
      accept(entry);
      return;
    }
    const kind = Object.keys(changes).find((each) => entry.dataset[each] !== undefined);
    if (kind) changes[kind](entry, entry.dataset[kind] ?? "");
  }

  /** @param {Entry} entry */
  function typedTitle(entry) {
    const title = entry.value.trim();
    offer(entry, (mount) => ({ ...mount, title }));
  }

  /** @param {Entry} entry */
  function typedTolerance(entry) {
    if (entry.value.trim() === "") {
      const { tolerance: _, ...rest } = store.state.mount;
      taken(entry);
      editor.change(rest);
      return;
    }
    const tolerance = accepted(entry, read(entry.value, "error", store.state.system));
    if (tolerance !== null) offer(entry, (mount) => ({ ...mount, tolerance }));
  }

  /** @param {Entry} entry @param {string} place */
  function typedField(entry, place) {
    const { state } = store;
    const value = valueIn(entry);
    if (value === null) return;
    accept(entry);
    store.set({ drafts: withField(state, place, value).drafts });
    offerAt(entry, place, value, state);
  }

  /**
   * Put a value at a place of the document, and at its partner's.
   * @param {Entry} entry @param {string} place @param {unknown} value
   * @param {import("../../core/store.js").State} [state] with what waits for the rest of its group
   */
  function offerAt(entry, place, value, state = store.state) {
    offer(entry, (mount) => {
      const next = alikeField(store.state, withField({ ...state, mount }, place, value).mount, place);
      return COORDINATE.test(place) ? editor.following(mount, next) : next;
    });
  }

  /**
   * What a field of the document holds: words or a number, undefined when empty, null when it cannot be read.
   * @param {Entry} entry
   */
  function valueIn(entry) {
    const words = entry.value.trim();
    const quantity = /** @type {import("../../values/units.js").Quantity|"words"} */ (entry.dataset.quantity);
    if (quantity === "words") return words;
    return words === "" ? undefined : accepted(entry, read(words, quantity, store.state.system));
  }

  /** @param {Entry} entry mm */
  function lengthIn(entry) {
    return accepted(entry, read(entry.value, "fine", store.state.system));
  }

  /**
   * Take a typed change over, or say beside its field why not.
   * @param {Entry} entry
   * @param {(mount: Mount) => Mount|import("../../document/moves.js").Outcome} make
   */
  async function offer(entry, make) {
    await whileAsked(entry, async () => {
      const { openings } = editor;
      const fault = await editor.offer(make);
      // Another mount may be on the sheet by now, and its own words in the field.
      if (fault && openings === editor.openings) refuse(entry, faultWords(store.state, fault));
      return !fault;
    });
    store.set({});
  }

  /** The fits at a pin diameter, from the server's tables. @param {Entry} entry */
  async function askFits(entry) {
    const nominal = lengthIn(entry);
    if (nominal === null) return;
    try {
      const fits = await answerOf(`/fits/${Number(Math.abs(nominal).toFixed(4))}`);
      store.set({ fits: { nominal, fits } });
    } catch (error) {
      refuse(entry, said(error, store.state.system));
      store.set({ fits: null });
    }
  }
}

/** @param {Entry} entry @param {number|null} value */
function accepted(entry, value) {
  if (value === null) refuseNumber(entry);
  else accept(entry);
  return value;
}

/**
 * Offer the grid steps of a unit system.
 * @param {HTMLSelectElement} grid
 * @param {System} system
 * @returns {number} the step chosen
 */
export function offerGrids(grid, system) {
  const steps = gridSteps(system);
  grid.replaceChildren(...steps.map(({ label, step }) => new Option(label, String(step))), new Option("no snap", FREE));
  grid.value = String(steps[2].step);
  return steps[2].step;
}
