/**
 * One picture a frame, however often something changes in between.
 * @module core/frame
 */

/** @param {() => void} render @returns {() => void} asks for it to be called in the next frame */
export function oncePerFrame(render) {
  let planned = false;
  return () => {
    if (planned) return;
    planned = true;
    requestAnimationFrame(() => {
      planned = false;
      render();
    });
  };
}
