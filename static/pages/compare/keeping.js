/**
 * Comparisons that are kept: by name, with a note of their own; opened again from the list, from a file or from a link.
 * @module pages/compare/keeping
 */

import { answerOf, said as wrong } from "../../core/server.js";
import { paint } from "../../core/paint.js";
import { download } from "../../document/files.js";
import { readDocument } from "../../document/files.js";
import { h } from "../../values/shapes.js";

/** @typedef {{id: string, revision: number}} Current which kept one is shown, and the revision it was taken from */

/**
 * @typedef {Object} Page
 * @property {<T extends Element>(selector: string) => T} find
 * @property {() => ComparisonDocument} document what is shown, with its name and note
 * @property {(name: string, note: string) => void} named
 * @property {(document: ComparisonDocument, current: Current|null) => Promise<void>} open
 * @property {() => Promise<string>} link
 * @property {() => void} changed
 * @property {() => System} system
 */

export class Keeping {
  /** @param {Page} page */
  constructor(page) {
    this.page = page;
    /** @type {Current|null} */
    this.current = null;
    /** The one last taken off the list. @type {string|null} */
    this.away = null;
    this.dialog = /** @type {HTMLDialogElement} */ (page.find("#keeping"));
    this.name = /** @type {HTMLInputElement} */ (page.find("#kept-name"));
    this.note = /** @type {HTMLTextAreaElement} */ (page.find("#kept-note"));
    const file = /** @type {HTMLInputElement} */ (page.find("#kept-file"));
    for (const field of [this.name, this.note])
      field.addEventListener("input", () => page.named(this.name.value, this.note.value));
    file.addEventListener("change", () => {
      const chosen = file.files?.[0];
      file.value = "";
      if (chosen) this.trying(() => this.openFile(chosen));
    });
  }

  /** What the buttons of the dialog do. @returns {Record<string, () => void|Promise<void>>} */
  get actions() {
    return {
      kept: () => this.show(),
      "kept-close": () => this.dialog.close(),
      "kept-keep": () => this.trying(() => this.keep(this.current)),
      "kept-another": () => this.trying(() => this.another()),
      "kept-link": () => this.trying(() => this.copyLink()),
      "kept-save": () => this.save(),
      "kept-file": () => /** @type {HTMLInputElement} */ (this.page.find("#kept-file")).click(),
      "kept-back": () => this.trying(() => this.bringBack()),
    };
  }

  async show() {
    const { name, note } = this.page.document();
    [this.name.value, this.note.value] = [name, note];
    this.say("");
    if (!this.dialog.open) this.dialog.showModal();
    await this.trying(() => this.list());
  }

  /** @param {Current|null} onto the kept one it replaces, or null for a new one */
  async keep(onto) {
    const comparison = this.page.document();
    const kept = onto
      ? await answerOf(`/comparisons/${onto.id}`, { comparison, revision: onto.revision }, { method: "PUT" })
      : await answerOf("/comparisons", { comparison });
    this.current = { id: kept.id, revision: kept.revision };
    this.say(`Kept as “${comparison.name}”.`);
    this.page.changed();
    await this.list();
  }

  /** The same two mounts for someone else: the note stays with whom it was written for. */
  async another() {
    this.note.value = "";
    this.page.named(this.name.value, "");
    await this.keep(null);
  }

  /** @param {string} id */
  async open(id) {
    await this.trying(async () => {
      const { comparison, revision } = await answerOf(/** @type {"/comparisons/{id}"} */ (`/comparisons/${id}`));
      await this.page.open(comparison, { id, revision });
    });
  }

  /** @param {string} id */
  async putAway(id) {
    await this.trying(async () => {
      await answerOf(/** @type {"/comparisons/{id}/restore"} */ (`/comparisons/${id}`), undefined, {
        method: "DELETE",
      });
      if (this.current?.id === id) this.current = null;
      this.away = id;
      this.say("Taken off the list.");
      await this.list();
    });
  }

  async bringBack() {
    if (!this.away) return;
    const path = /** @type {"/comparisons/{id}/restore"} */ (`/comparisons/${this.away}/restore`);
    await answerOf(path, undefined, { method: "POST" });
    this.away = null;
    this.say("Back on the list.");
    await this.list();
  }

  /** @param {File} file */
  async openFile(file) {
    const found = /** @type {unknown} */ (await readDocument(file));
    const comparison = /** @type {ComparisonDocument} */ (found);
    if (!comparison?.a?.mount || !comparison.b?.mount)
      throw new Error(
        `'${file.name}' holds no comparison: it has no two mounts, a and b. Choose one that was saved here.`,
      );
    await this.page.open(comparison, null);
  }

  save() {
    const comparison = this.page.document();
    const stem = comparison.name.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "");
    const text = `${JSON.stringify(comparison, null, 1)}\n`;
    download(new Blob([text], { type: "application/json" }), `${stem || "comparison"}.comparison.json`);
    this.say("Saved as a file: it opens here again, note and all.");
  }

  async copyLink() {
    const link = await this.page.link();
    await navigator.clipboard.writeText(link);
    this.say("Copied: the link carries both mounts, the name and the note.");
  }

  async list() {
    const found = await answerOf("/comparisons");
    paint(this.page.find("#kept-list"), [
      ...(this.away
        ? [
            h("li", { key: "away" }, [
              h("button", { key: "b", type: "button", "data-action": "kept-back" }, "bring it back"),
            ]),
          ]
        : []),
      ...(found.length ? [] : [h("li", { key: "none", class: "quiet" }, "Nothing is kept yet.")]),
      ...found.map((each) =>
        h("li", { key: each.id, class: each.id === this.current?.id ? "current" : "" }, [
          h("button", { key: "open", type: "button", class: "kept-open", "data-kept": each.id }, [
            h("b", { key: "n" }, each.name),
            h("span", { key: "m", class: "quiet" }, ` ${each.mounts.join(" / ")}`),
          ]),
          h(
            "button",
            { key: "away", type: "button", "data-put-away": each.id, "aria-label": `take “${each.name}” off the list` },
            "×",
          ),
        ]),
      ),
    ]);
  }

  /** @param {() => Promise<void>} doing */
  async trying(doing) {
    try {
      await doing();
    } catch (error) {
      this.say(wrong(error, this.page.system()));
    }
  }

  /** @param {string} words */
  say(words) {
    this.page.find("#kept-said").textContent = words;
  }
}

/** @param {Current|null} current */
export function keptPart(current) {
  return current && `${current.id}.${current.revision}`;
}

/** The kept one a link says it is. @param {string|undefined} part */
export function keptAboard(part) {
  const found = /^([0-9a-f]{32})\.([0-9]{1,9})$/.exec(part ?? "");
  return found && { id: found[1], revision: Number(found[2]) };
}
