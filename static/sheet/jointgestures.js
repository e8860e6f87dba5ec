/**
 * What gestures do to one mount on one sheet, wherever it stands: taking hold of joints and moving them.
 * @module sheet/jointgestures
 */

import { handlePixel } from "./marks/handles.js";
import { handle, handles } from "../document/mount.js";
import { standing } from "../values/placed.js";

/**
 * The part of the gestures that the sketch and each side of a pair have in common.
 * @param {import("../core/store.js").Store} store
 * @param {import("../core/editor.js").Editor} editor
 * @param {import("./sheet.js").Sheet} sheet
 */
export function jointGestures(store, editor, sheet) {
  /** @param {string} name @returns {[number, number]} */
  const whereIs = (name) => {
    const { state } = store;
    const each = handle(state.mount, name);
    if (!each || !state.view) return [-1e9, -1e9];
    return handlePixel(each, state.mount, state.view.apply(standing(each.at, state.readout?.pose?.bodies[each.body])));
  };
  return {
    whereIs,
    /** @param {string} name @param {boolean} more */
    onPick: (name, more) => editor.pick(name, more),
    onStart: () => {
      sheet.moving = true;
      editor.begin();
    },
    /** @param {string} name @param {[number, number]} at @param {boolean} free */
    onMove: (name, at, free) => editor.drag(name, at, free),
    onEnd: () => {
      sheet.moving = false;
      editor.finish();
    },
    onCancel: () => {
      sheet.moving = false;
      editor.cancel();
    },
    /** @param {string} name @param {number} dx @param {number} dy */
    onNudge: (name, dx, dy) => editor.nudge(name, dx, dy),
    picked: () => store.state.picked,
    several: () => store.state.several,
    /** A member is picked by the end nearer to the tap. @param {string} id @param {[number, number]} at */
    onChoose: (id, at) => {
      editor.choose(id);
      const { mount } = store.state;
      const away = (/** @type {string} */ name) => Math.hypot(...[0, 1].map((axis) => whereIs(name)[axis] - at[axis]));
      const [nearest] = handles(mount)
        .filter((each) => each.member?.id === id)
        .map((each) => each.name)
        .sort((a, b) => away(a) - away(b));
      if (nearest) editor.pick(nearest, store.state.several);
    },
    onLetGo: () => store.set({ picked: null, selected: [], several: false }),
  };
}
