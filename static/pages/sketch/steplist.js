/**
 * The list of steps: opened and left, gone through with the arrow keys.
 * @module pages/sketch/steplist
 */

/** @typedef {import("../../core/store.js").Store} Store */

/** @param {string} selector */
function focusOn(selector) {
  const found = document.querySelector(selector);
  if (found instanceof HTMLElement) found.focus();
}

/** Open the list at the step that is shown, or put it away. @param {Store} store */
export function toggleSteps(store) {
  const stepsOpen = !store.state.stepsOpen;
  const inside = document.activeElement?.closest("#steps-room");
  store.set({ stepsOpen });
  if (stepsOpen) requestAnimationFrame(() => focusOn('#steps-room [aria-current="step"]'));
  else if (inside) focusOn('.sheet-corner [data-action="steps"]');
}

/** @param {Store} store @param {HTMLElement} room */
export function listenToSteps(store, room) {
  room.addEventListener("keydown", (event) => {
    const buttons = /** @type {HTMLElement[]} */ ([...room.querySelectorAll("[data-jump]")]);
    const at = buttons.findIndex((each) => each === document.activeElement);
    const to = { ArrowUp: at - 1, ArrowDown: at + 1, Home: 0, End: buttons.length - 1 }[event.key];
    if (event.key === "Escape") toggleSteps(store);
    else if (to !== undefined && at >= 0) buttons[Math.min(Math.max(to, 0), buttons.length - 1)].focus();
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
}
