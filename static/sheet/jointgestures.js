/**
 * What gestures do to one mount on one sheet, wherever it stands: taking hold of joints and moving them.
 * @module sheet/jointgestures
 */

import { handle, handles, isLoad, loadSize, loadTurned } from "../document/mount.js";
import { constructionLines, constructionPoints, lineName, lineOf } from "../document/construction.js";
import { directionMoved, directionOf } from "../document/direction.js";
import { turnedAlike } from "../document/mirror.js";
import { cornerName } from "../document/outlines.js";
import { drawn, standing } from "../values/placed.js";
import { handlePixel } from "./marks/handles.js";
import { snap } from "./snap.js";
import { own } from "../values/own.js";

/** @typedef {readonly [number, number]} Point */

/** A joint that is moved rests on what is nearer than this, pixels. */
const NEAR_PX = 9;
/** The load and a slide's direction turn by steps of this, degrees. */
const TURN = 5;

/**
 * The part of the gestures that the sketch and each side of a pair have in common.
 * @param {import("../core/store.js").Store} store
 * @param {import("../core/editor.js").Editor} editor
 */
export function jointGestures(store, editor) {
  /** @param {string} name @returns {[number, number]} */
  const whereIs = (name) => {
    const { state } = store;
    const each = handle(state.mount, name);
    if (!each || !state.view) return [-1e9, -1e9];
    return handlePixel(
      each,
      state.mount,
      state.view.apply(standing(each.at, own(state.readout?.pose?.bodies, each.body))),
    );
  };

  /** Where a joint that is moved comes to rest. @param {string} name @param {Point} to mm as drawn @returns {Point} */
  const rest = (name, to) => {
    const { mount, grid, view, selected } = store.state;
    const moving = new Set([name, ...selected]);
    const others = handles(mount)
      .filter((each) => !moving.has(each.name) && !isLoad(each.name))
      .map((each) => each.at);
    // What sets out the drawing does not rest on itself.
    const own = lineOf(name) !== null;
    others.push(...(own ? [] : constructionPoints(mount)));
    const lines = own ? [] : constructionLines(mount);
    const found = snap(to, { grid, near: NEAR_PX / (view?.scale ?? 1), others, lines });
    store.set({ guides: found.guides });
    return found.at;
  };

  /** @param {string} name @param {[number, number]} at pixels @param {boolean} free of grid and guides */
  const move = (name, at, free) => {
    const { state } = store;
    const each = handle(state.mount, name);
    if (!each || !state.view) return;
    const bodies = state.readout?.pose?.bodies;
    if (name === "load/turn" && state.mount.load) {
      const [x, y] = state.view.apply(standing(each.at, bodies?.blade));
      const degrees = (Math.atan2(at[1] - y, x - at[0]) * 180) / Math.PI;
      const turned = free ? degrees : Math.round(degrees / TURN) * TURN;
      editor.show(loadTurned(state.mount, turned, loadSize(state.mount.load).size));
      return;
    }
    if (directionOf(name) !== null) {
      const to = drawn(state.view.invert(at), own(bodies, each.body));
      editor.show(turnedAlike(directionMoved(state.mount, name, to, free ? 0 : TURN), name));
      return;
    }
    const tip = name === "load/at" ? aheadOf(at, state.mount, each) : at;
    const to = drawn(state.view.invert(tip), own(bodies, each.body));
    editor.moveTo(name, free || !state.snap ? to : rest(name, to));
  };

  return {
    whereIs,
    /** @param {string} name @param {boolean} more */
    onPick: (name, more) => editor.pick(name, more),
    onStart: () => {
      store.set({ moving: true });
      editor.begin();
    },
    onMove: move,
    onEnd: () => {
      store.set({ moving: false });
      editor.finish();
    },
    onCancel: () => {
      store.set({ moving: false });
      editor.cancel();
    },
    /** A tap puts the picked thing there, when that was asked for. @param {[number, number]} at pixels */
    onTap: (at) => {
      const { state } = store;
      if (!state.placing || !state.picked) return false;
      editor.begin();
      move(state.picked, at, false);
      editor.finish();
      store.set({ placing: false });
      return true;
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
    /** @param {number} dimension */
    onDimension: (dimension) => store.set({ dimension, picked: null, selected: [], placing: false }),
    /** @param {number} index */
    onOutline: (index) => editor.pick(cornerName(index, 0)),
    /** @param {number} index */
    onConstruction: (index) => editor.pick(lineName(index)),
    onLetGo: () => store.set({ picked: null, dimension: null, selected: [], several: false }),
  };
}

/**
 * The tip of the load's arrow when it is held by its shaft at a pixel.
 * @param {[number, number]} at
 * @param {Mount} mount
 * @param {import("../document/mount.js").Handle} each
 * @returns {[number, number]}
 */
function aheadOf(at, mount, each) {
  const held = handlePixel(each, mount, [0, 0]);
  return [at[0] - held[0], at[1] - held[1]];
}
