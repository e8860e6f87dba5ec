/**
 * Points of a search's plot: pressed, or reached with Tab and the arrow keys and pressed with Enter.
 * @module pages/sketch/fronthand
 */

/** @type {Record<string, number>} */
const STEPS = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

/** @param {Element} panel */
export function listenToFront(panel) {
  /** @param {EventTarget|null} target @returns {Element|null} */
  const pointOf = (target) => (target instanceof Element ? target.closest("[data-front]") : null);
  /** The table's button for it does the same. @param {Element} point */
  const press = (point) =>
    /** @type {HTMLElement|null} */ (panel.querySelector(`[data-show="${point.getAttribute("data-front")}"]`))?.click();

  panel.addEventListener("click", ({ target }) => {
    const point = pointOf(target);
    if (point) press(point);
  });
  panel.addEventListener("keydown", (event) => {
    if (!(event instanceof KeyboardEvent)) return;
    const point = pointOf(event.target);
    if (!point) return;
    const step = STEPS[event.key];
    if (event.key === "Enter" || event.key === " ") press(point);
    else if (step) {
      const count = panel.querySelectorAll("[data-front]").length;
      const next = (Number(point.getAttribute("data-front")) + step + count) % count;
      /** @type {SVGElement|null} */ (panel.querySelector(`[data-front="${next}"]`))?.focus();
    } else return;
    event.preventDefault();
  });
}
