/**
 * Variants of the mount on the sheet: copied, listed, switched, shown as ghosts.
 * @module pages/sketch/actions/varying
 */

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function varying({ store, variants, find }) {
  return {
    vary: () => variants.copy(),
    variants: () => {
      // What has the focus in the table goes with it.
      if (find("#variants-room").contains(document.activeElement)) find(".sheet-corner button").focus();
      variants.set({ open: !store.state.variants.open });
    },
    "next-variant": () => variants.beside(1),
    "previous-variant": () => variants.beside(-1),
    ghosts: () => variants.ghostAll(),
  };
}
