/**
 * Copy and paste of members, within a mount and from one to another: through the system's clipboard where the browser
 * gives one, and always through the tab's own.
 * @module pages/sketch/clipboard
 */

import { copiedText, pasted, readCutting } from "../../document/clipboard.js";

const KEPT = "copied members";

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../core/editor.js").Editor} editor
 */
export function listenToClipboard(store, editor) {
  store.set({ copied: kept() });

  document.addEventListener("paste", (event) => {
    if (isTyping(event.target)) return;
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (text && !readCutting(text)) return;
    event.preventDefault();
    paste(text || store.state.copied);
  });

  /** @param {string|null} text */
  function paste(text) {
    const cutting = readCutting(text ?? "");
    if (!cutting) return;
    const had = store.state.mount.members.length;
    editor
      .propose((mount) => pasted(mount, cutting, 4 * store.state.grid))
      .then(() => {
        const fresh = store.state.mount.members.slice(had);
        const names = fresh.flatMap((each) => (each.ends ? [`${each.id} / 1`, `${each.id} / 2`] : [each.id]));
        if (names.length) store.set({ picked: names[0], selected: names, dimension: null });
      });
  }

  return {
    /** @param {Set<string>} chosen ids */
    copy: (chosen) => {
      if (!chosen.size) return;
      const copied = copiedText(store.state.mount, chosen);
      store.set({ copied });
      keep(copied);
      navigator.clipboard?.writeText(copied).catch(() => {});
    },
    paste: () => paste(store.state.copied),
  };
}

/** @param {EventTarget|null} target */
function isTyping(target) {
  return (target instanceof HTMLInputElement && target.type !== "range") || target instanceof HTMLTextAreaElement;
}

/** What was copied in this tab before it was loaded anew. */
function kept() {
  try {
    return sessionStorage.getItem(KEPT);
  } catch {
    return null;
  }
}

/** @param {string} text */
function keep(text) {
  try {
    sessionStorage.setItem(KEPT, text);
  } catch {
    // Without a store it lasts as long as the page.
  }
}
