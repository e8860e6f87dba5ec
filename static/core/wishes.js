/**
 * Goals, what is free and what is locked, kept by the browser beside the mount's id, or the name of the shipped mount
 * until a change makes a mount of one's own of it.
 * @module core/wishes
 */

import { renamedIn } from "../document/mount.js";
import { NO_WISHES, isIdle, readWishes, renamed } from "../document/wishes.js";

const KEPT = "wishes";
const MOST = 60;

/**
 * Keep the wishes through reloads, and bring them with the mount that is opened.
 * @param {import("./store.js").Store} store
 * @param {{openings: number}} editor
 * @param {{id: string|null, onNew: ((id: string) => void)|null}} autosave
 */
export function keepWishes(store, editor, autosave) {
  let { openings } = editor;
  autosave.onNew = (id) => save(id, store.state.wishes);
  store.listen((state, before) => {
    const name = autosave.id ?? (state.shipped ? `shipped ${state.shipped}` : null);
    if (editor.openings !== openings) {
      openings = editor.openings;
      store.set({ wishes: name ? load(name) : NO_WISHES, goalsAsked: null, suggested: null, ghost: null });
    } else if (before.mount && state.mount !== before.mount && state.wishes === before.wishes) {
      const wishes = renamed(state.wishes, renamedIn(before.mount, state.mount));
      if (wishes !== state.wishes) store.set({ wishes });
    } else if (name && state.wishes !== before.wishes) save(name, state.wishes);
  });
}

/** @returns {[string, unknown][]} newest last */
function all() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT) ?? "[]");
    return Array.isArray(kept) ? kept : [];
  } catch {
    return [];
  }
}

/** @param {string} name */
function load(name) {
  return readWishes(all().find(([each]) => each === name)?.[1]);
}

/** @param {string} name @param {import("../document/wishes.js").Wishes} wishes */
function save(name, wishes) {
  const others = all().filter(([each]) => each !== name);
  const kept = isIdle(wishes) ? others : [...others, /** @type {const} */ ([name, wishes])];
  try {
    localStorage.setItem(KEPT, JSON.stringify(kept.slice(-MOST)));
  } catch {
    // Private windows may refuse to keep them; they last as long as the page.
  }
}
