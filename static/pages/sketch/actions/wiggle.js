/**
 * A mount that hangs loose, or stands near a dead centre, is swung through what it can still do, until it is held or
 * told to stop.
 * @module pages/sketch/actions/wiggle
 */

import { motionsOf } from "../../../sheet/scene.js";

const MS_PER_RADIAN = 500;

/** @param {import("../../../core/store.js").Store} store @returns {() => void} begins it, or stops it */
export function wiggler(store) {
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let frame = 0;
  return () => {
    cancelAnimationFrame(frame);
    if (store.state.wiggle !== null) {
      store.set({ wiggle: null });
      return;
    }
    if (still.matches) {
      store.set({ wiggle: Math.PI / 2 });
      return;
    }
    const begin = performance.now();
    const step = (/** @type {number} */ now) => {
      if (!motionsOf(store.state).length || (now > begin && store.state.wiggle === null)) {
        store.set({ wiggle: null });
        return;
      }
      store.set({ wiggle: (now - begin) / MS_PER_RADIAN });
      frame = requestAnimationFrame(step);
    };
    store.set({ wiggle: 0 });
    frame = requestAnimationFrame(step);
  };
}
