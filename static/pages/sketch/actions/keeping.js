/**
 * Answers to what the page asks: leave a change that is not kept, take another tab's, put a message away, keep anew.
 * @module pages/sketch/actions/keeping
 */

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function keeping({ store, autosave, library }) {
  return {
    stay: () => store.set({ leaving: null }),
    leave: () => {
      const { leaving } = store.state;
      store.set({ leaving: null });
      leaving?.();
    },
    hush: () => store.set({ message: null, done: null }),
    theirs: () => autosave.theirs(),
    mine: () => autosave.mine(),
    again: () => autosave.again(),
    library: () => library.open(),
  };
}
