/**
 * The shelf: the person's own mounts beside the shipped ones, earlier versions, and what was deleted.
 * @module shelf
 */

import { thumbnail } from "./panels/picker.js";
import { h, paint } from "./svg.js";

/** @param {string} path @param {string} [method] */
async function asked(path, method = "GET") {
  const answer = await fetch(path, { method });
  if (!answer.ok) throw new Error((await answer.json()).error.message);
  return answer.json();
}

export class ShelfDialog {
  /**
   * @param {HTMLDialogElement} dialog
   * @param {{open: (id: string) => void, show: (mount: any, command: any) => void, current: () => string|null, failed: (words: string) => void}} hands
   */
  constructor(dialog, hands) {
    this.dialog = dialog;
    this.hands = hands;
    this.list = /** @type {Element} */ (dialog.querySelector("[data-list]"));
    this.deleted = false;
    /** @type {{id: string, entries: any[]}|null} */
    this.versions = null;
    dialog.addEventListener("click", (event) => this.clicked(event));
  }

  async open() {
    this.versions = null;
    this.deleted = false;
    if (!this.dialog.open) this.dialog.showModal();
    await this.draw();
  }

  async draw() {
    try {
      const entries = await asked(this.deleted ? "/shelf?deleted=1" : "/shelf");
      paint(this.list, [
        ...(entries.length ? [] : [h("p", { key: "none", class: "said quiet" }, this.deleted ? "Nothing was deleted." : "Nothing of your own yet: change a shipped mount and the copy is kept here.")]),
        ...entries.flatMap((/** @type {any} */ each) => [this.entry(each), ...this.versionsOf(each.id)]),
        h("button", { key: "deleted", type: "button", "data-shelf": "deleted" }, this.deleted ? "back to the shelf" : "show what was deleted"),
      ]);
    } catch (error) {
      paint(this.list, [h("p", { key: "why", class: "said" }, `The shelf cannot be read: ${error instanceof Error ? error.message : "the server does not answer"}`)]);
    }
  }

  /** @param {any} each */
  entry(each) {
    const buttons = this.deleted
      ? [["restore", "bring back"]]
      : [["open", "open"], ["versions", this.versions?.id === each.id ? "hide versions" : "earlier versions"], ["delete", "delete"]];
    const now = this.hands.current() === each.id;
    return h("div", { key: each.id, class: `kept-mount${now ? " now" : ""}`, "data-kept": each.id }, [
      { tag: "svg", attrs: { key: "svg", viewBox: "0 0 64 44", width: 96, height: 66, "aria-hidden": "true" }, kids: thumbnail(each.mount) },
      h("div", { key: "words" }, [
        h("strong", { key: "title" }, each.title),
        h("p", { key: "when", class: "quiet" }, `${now ? "on the sheet, " : ""}changed ${new Date(each.changed).toLocaleString()}`),
        h("div", { key: "do", class: "tool-row" }, buttons.map(([what, words]) => h("button", { key: what, type: "button", "data-shelf": what, "data-id": each.id, "aria-label": `${words}: ${each.title}` }, words))),
      ]),
    ]);
  }

  /** @param {string} id */
  versionsOf(id) {
    if (this.versions?.id !== id) return [];
    return [h("ol", { key: `versions ${id}`, class: "versions" }, this.versions.entries.slice(0, 200).map((each) =>
      h("li", { key: each.revision }, [h("button", { key: "look", type: "button", "data-shelf": "version", "data-id": id, "data-revision": each.revision }, `step ${each.revision}, ${new Date(each.changed).toLocaleString()}`)]),
    ))];
  }

  /** @param {MouseEvent} event */
  async clicked(event) {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    const what = button?.dataset.shelf;
    const id = button?.dataset.id ?? "";
    if (!what) return;
    try {
      if (what === "open") {
        this.dialog.close();
        this.hands.open(id);
        return;
      }
      if (what === "deleted") this.deleted = !this.deleted;
      if (what === "delete") await asked(`/shelf/${id}`, "DELETE");
      if (what === "restore") await asked(`/shelf/${id}/restore`, "POST");
      if (what === "versions") this.versions = this.versions?.id === id ? null : { id, entries: await asked(`/shelf/${id}/versions`) };
      if (what === "version") await this.look(id, button?.dataset.revision ?? "");
    } catch (error) {
      this.hands.failed(error instanceof Error ? error.message : "The server does not answer.");
    }
    await this.draw();
  }

  /** Bring an earlier version back as a new step. @param {string} id @param {string} revision */
  async look(id, revision) {
    const found = await asked(`/shelf/${id}/versions/${revision}`);
    if (this.hands.current() !== id) await this.hands.open(id);
    this.dialog.close();
    this.hands.show(found.mount ?? found, found.command ?? {});
  }
}
