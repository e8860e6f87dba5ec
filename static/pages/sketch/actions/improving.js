/**
 * The buttons of the way to a better geometry: goals, suggestions and what becomes of them.
 * @module pages/sketch/actions/improving
 */

import { suggestedFor } from "../../../core/suggester.js";
import { canMirror, withBox } from "../../../document/free.js";
import { newGoal } from "../../../document/wishes.js";
import { frontName } from "../../../panels/fronttable.js";
import { changeName, suggestionName } from "../../../panels/suggestions.js";

/** @template T @param {T[]} list @param {string} index */
function without(list, index) {
  return list.filter((_, at) => at !== Number(index));
}

/** @param {import("../actions.js").Desk} desk @returns {import("../../../core/clicks.js").Buttons} */
export function improving({ store, editor, ghosting, variants, openShipped, find }) {
  /** @param {Partial<import("../../../document/wishes.js").Wishes>} change */
  const wish = (change) => store.set(({ wishes }) => ({ wishes: { ...wishes, ...change } }));
  /** A whole mount that was worked out for this one, as one step. @param {Mount} mount @param {string} name */
  const take = (mount, name) => {
    editor.finish();
    editor.begin();
    editor.show(mount);
    editor.finish(null, name);
  };
  return {
    addGoal: (what) => {
      const { mount, wishes, system } = store.state;
      wish({ goals: [...wishes.goals, newGoal(mount, /** @type {GoalWhat} */ (what), system)] });
      // The button goes away with the focus: on to what is typed next.
      requestAnimationFrame(() => {
        const entries = document.querySelectorAll("[data-goal-most]");
        /** @type {HTMLInputElement|undefined} */ (entries[entries.length - 1])?.select();
      });
    },
    dropGoal: (index) => {
      wish({ goals: without(store.state.wishes.goals, index) });
      find("#panel").focus({ preventScroll: true });
    },
    try: (index) => {
      const { state } = store;
      const found = suggestedFor(state)?.answer?.suggestions[Number(index)];
      const of = suggestionName(Number(index));
      if (found)
        ghosting.show(state.ghost?.of === of ? null : { mount: found.mount, of, name: changeName(state, found) });
    },
    apply: (index) => {
      const found = suggestedFor(store.state)?.answer?.suggestions[Number(index)];
      if (found) take(found.mount, changeName(store.state, found));
      find("#panel").focus({ preventScroll: true });
    },
    kind: (name) => openShipped(name),
    show: (index) => {
      const { state } = store;
      const found = state.search?.standing?.result?.front[Number(index)];
      const of = frontName(Number(index));
      const name = `take mount ${Number(index) + 1} of a search`;
      if (found) ghosting.show(state.ghost?.of === of ? null : { mount: found.mount, of, name });
    },
    take: () => {
      const { ghost } = store.state;
      if (ghost) take(ghost.mount, ghost.name);
      find("#panel").focus({ preventScroll: true });
    },
    keepFront: () => {
      const { ghost } = store.state;
      if (ghost) variants.keep(ghost.mount);
    },
    dropBox: (index) => {
      wish({ boxes: without(store.state.wishes.boxes, index) });
      find("#panel").focus({ preventScroll: true });
    },
    dropChoice: (index) => {
      wish({ choices: without(store.state.wishes.choices, index) });
      find("#panel").focus({ preventScroll: true });
    },
    boxTick: (what) => {
      const { mount, wishes } = store.state;
      const [index, key] = what.split(" ");
      const box = wishes.boxes[Number(index)];
      const next = { ...box, [key]: !box[/** @type {"alike"|"whole"} */ (key)] };
      wish({ boxes: withBox(mount, wishes.boxes, { ...next, alike: next.alike && canMirror(mount, next) }) });
    },
    choiceTick: (index) => {
      const { choices } = store.state.wishes;
      wish({ choices: choices.map((each, at) => (at === Number(index) ? { ...each, alike: !each.alike } : each)) });
    },
    lockJoint: (name) => {
      const { locked } = store.state.wishes;
      wish({ locked: locked.includes(name) ? locked.filter((each) => each !== name) : [...locked, name] });
    },
    unlock: (name) => {
      wish({ locked: store.state.wishes.locked.filter((each) => each !== name) });
      find("#panel").focus({ preventScroll: true });
    },
  };
}

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function searching({ searcher, ghosting }) {
  return {
    search: () => {
      ghosting.show(null);
      searcher.start();
    },
    "stop-search": () => searcher.cancel(),
    "drop-search": () => {
      ghosting.show(null);
      searcher.drop();
    },
  };
}
