/**
 * One listener for every button of a page: what a button is for stands in its data- attributes.
 * @module core/clicks
 */

/**
 * What to do with a button that has an attribute, by the attribute's name.
 * @typedef {Record<string, (value: string, button: HTMLButtonElement) => void>} Buttons
 */

/** @param {Buttons} buttons @param {() => void} [after] every click on one */
export function listenToButtons(buttons, after) {
  document.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    if (!button) return;
    for (const [name, value] of Object.entries(button.dataset)) {
      if (value !== undefined && Object.hasOwn(buttons, name)) buttons[name](value, button);
    }
    after?.();
  });
}

/**
 * Do what a table has for a name, if anything.
 * @param {Record<string, () => void>} table
 * @returns {(name: string) => void}
 */
export function byName(table) {
  return (name) => {
    if (Object.hasOwn(table, name)) table[name]();
  };
}
