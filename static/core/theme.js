/**
 * The colour of the paper, as it was last chosen on any page.
 * @module core/theme
 */

const THEMES = ["auto", "light", "dark"];

/** Show the paper that was chosen last, and let the page's button change it. */
export function wearTheme() {
  show(remembered());
  document.querySelector('[data-action="theme"]')?.addEventListener("click", () => {
    show(THEMES[(THEMES.indexOf(document.documentElement.dataset.theme ?? "auto") + 1) % THEMES.length]);
  });
}

function remembered() {
  try {
    return localStorage.getItem("theme") ?? "auto";
  } catch {
    return "auto";
  }
}

/** @param {string} theme */
function show(theme) {
  document.documentElement.dataset.theme = theme;
  const name = document.querySelector("#theme-name");
  if (name) name.textContent = theme;
  try {
    localStorage.setItem("theme", theme);
  } catch {
    // Private windows may refuse to keep it.
  }
}
