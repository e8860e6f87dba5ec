/**
 * The library: the person's own mounts beside the shipped ones, earlier versions, and what was deleted.
 * @module panels/library
 */

import { answerOf, newKey } from "../core/server.js";
import { keptMount } from "./kept.js";
import { thumbnail } from "./picker.js";
import { paint, write } from "../core/paint.js";
import { arranged, titleOfCopy } from "../document/families.js";
import { h } from "../values/shapes.js";
import { vocabulary } from "../values/vocabulary.js";

/** @typedef {import("../document/families.js").Order} Order */

export class LibraryDialog {
  /**
   * @param {HTMLDialogElement} dialog
   * @param {Object} page
   * @param {(id: string) => void} page.open
   * @param {(mount: Mount, command: Command) => void} page.show
   * @param {(readout: Readout) => string[]} page.words
   * @param {() => {id: string, mount: Mount}|null} page.current the kept mount on the sheet
   * @param {(make: (mount: Mount) => Mount) => Promise<string|null>} page.change the mount on the sheet; why it is not
   * @param {(name: string) => string|null} page.shipped the title of a shipped mount
   * @param {(error: unknown) => string} page.said what went wrong, in words
   */
  constructor(dialog, page) {
    this.dialog = dialog;
    this.page = page;
    this.list = /** @type {Element} */ (dialog.querySelector("[data-list]"));
    this.line = /** @type {Element} */ (dialog.querySelector("[data-said]"));
    this.search = /** @type {HTMLInputElement} */ (dialog.querySelector("[data-search]"));
    this.order = /** @type {HTMLSelectElement} */ (dialog.querySelector("[data-order]"));
    this.deleted = false;
    /** The mount whose title and note are being entered. @type {string|null} */
    this.renaming = null;
    /** What the library holds. @type {LibraryEntry[]} */
    this.entries = [];
    /** What happened to its file. @type {string[]} */
    this.happened = [];
    /** @type {{id: string, entries: VersionEntry[]}|null} */
    this.versions = null;
    /**
     * The version that is looked at.
     * @type {{id: string, revision: number, mount: Mount, command: Command, words: string[]}|null}
     */
    this.looked = null;
    dialog.addEventListener("click", (event) => this.clicked(event));
    dialog.addEventListener("submit", (event) => this.submitted(event));
    dialog.addEventListener("keydown", (event) => this.pressed(event));
    this.search.addEventListener("input", () => this.show());
    this.order.addEventListener("change", () => this.show());
  }

  async open() {
    this.versions = this.looked = this.renaming = null;
    this.deleted = false;
    this.search.value = "";
    write(this.line, "");
    if (!this.dialog.open) this.dialog.showModal();
    await this.draw();
  }

  /** Ask the library what it holds, and show it. */
  async draw() {
    try {
      this.entries = await answerOf(this.deleted ? "/library?deleted=1" : "/library");
      this.happened = await answerOf("/library/said");
      this.show();
    } catch (error) {
      paint(this.list, [h("p", { key: "why", class: "said" }, `The library cannot be read. ${this.page.said(error)}`)]);
    }
  }

  show() {
    const now = this.page.current();
    // What is on the sheet is called as it is there, whether the library has heard of it or not.
    const entries = this.entries.map((each) =>
      each.id === now?.id && !this.deleted ? { ...each, title: now.mount.title, note: now.mount.note ?? "" } : each,
    );
    const titles = new Map(entries.map((each) => [each.id, each.title]));
    const found = arranged(entries, /** @type {Order} */ (this.order.value), this.search.value);
    const none = this.search.value.trim()
      ? `No title and no note has “${this.search.value.trim()}” in it.`
      : this.deleted
        ? "Nothing was deleted."
        : "Nothing of your own yet: change a shipped mount and the copy is kept here.";
    paint(this.list, [
      ...this.happened.map((words) => h("p", { key: words, class: "said" }, words)),
      ...(found.length ? [] : [h("p", { key: "none", class: "said quiet" }, none)]),
      ...found.flatMap(({ entry, depth }) => [
        keptMount(entry, {
          now: entry.id === now?.id,
          deleted: this.deleted,
          renaming: this.renaming === entry.id,
          versions: this.versions?.id === entry.id,
          depth,
          parent: entry.origin && (titles.get(entry.origin) ?? entry.parent ?? this.page.shipped(entry.origin)),
        }),
        ...this.versionsOf(entry.id),
      ]),
      h(
        "button",
        { key: "deleted", type: "button", "data-library": "deleted" },
        this.deleted ? "back to the library" : "show what was deleted",
      ),
    ]);
  }

  /** @param {string} id */
  versionsOf(id) {
    if (this.versions?.id !== id) return [];
    return [
      h(
        "ol",
        { key: `versions ${id}`, class: "versions" },
        this.versions.entries.slice(0, 200).map((each) =>
          h("li", { key: each.revision }, [
            ...this.lookAt(id, each.revision),
            h(
              "button",
              {
                key: "look",
                type: "button",
                "data-library": "version",
                "data-id": id,
                "data-revision": each.revision,
                disabled: !each.readable,
              },
              `step ${each.revision}, ${each.readable ? new Date(each.changed).toLocaleString() : "cannot be read"}`,
            ),
          ]),
        ),
      ),
    ];
  }

  /**
   * An earlier version looked at: its drawing and numbers, and a way to bring it back.
   * @param {string} id
   * @param {number} revision
   * @returns {import("../values/shapes.js").Shape[]}
   */
  lookAt(id, revision) {
    const { looked } = this;
    if (looked?.id !== id || looked.revision !== revision) return [];
    return [
      h("div", { key: "looked", class: "looked-at" }, [
        {
          tag: "svg",
          attrs: {
            key: "svg",
            viewBox: "0 0 64 44",
            width: 256,
            height: 176,
            role: "img",
            "aria-label": `step ${revision} of ${looked.mount.title}`,
          },
          kids: thumbnail(looked.mount),
        },
        h("div", { key: "words" }, [
          h("strong", { key: "title" }, looked.mount.title),
          ...looked.words.map((words, index) => h("p", { key: index, class: "said" }, words)),
          h(
            "button",
            { key: "back", type: "button", "data-library": "bring", "data-id": id, "data-revision": revision },
            "bring this version back",
          ),
        ]),
      ]),
    ];
  }

  /** @param {MouseEvent} event */
  async clicked(event) {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    const what = button?.dataset.library;
    const id = button?.dataset.id ?? "";
    if (!what) return;
    write(this.line, "");
    try {
      if (what === "open") {
        this.dialog.close();
        this.page.open(id);
        return;
      }
      if (what === "deleted") this.deleted = !this.deleted;
      if (what === "delete") await answerOf(`/library/${id}`, undefined, { method: "DELETE" });
      if (what === "restore") await answerOf(`/library/${id}/restore`, undefined, { method: "POST" });
      if (what === "versions")
        this.versions = this.versions?.id === id ? null : { id, entries: await answerOf(`/library/${id}/versions`) };
      if (what === "version") await this.look(id, Number(button?.dataset.revision));
      if (what === "bring") await this.bring(id);
      if (what === "rename") this.renaming = id;
      if (what === "unrename") this.renaming = null;
      if (what === "copy") this.renaming = await this.copy(id);
    } catch (error) {
      write(this.line, this.page.said(error));
    }
    await this.draw();
    if (what === "rename" || what === "copy") this.field?.select();
    if (what === "unrename") this.button("rename", id)?.focus();
  }

  /** Where the title is entered. @returns {HTMLInputElement|null} */
  get field() {
    return this.list.querySelector("[data-rename] input");
  }

  /** @param {string} what @param {string} id @returns {HTMLElement|null} */
  button(what, id) {
    return this.list.querySelector(`[data-library="${what}"][data-id="${id}"]`);
  }

  /** Escape leaves title and note as they were; a second one closes the library. @param {KeyboardEvent} event */
  pressed(event) {
    const id = this.renaming;
    if (event.key !== "Escape" || !id || !(event.target instanceof Element && event.target.closest("form"))) return;
    event.preventDefault();
    event.stopPropagation();
    this.renaming = null;
    this.show();
    this.button("rename", id)?.focus();
  }

  /** @param {SubmitEvent} event */
  async submitted(event) {
    event.preventDefault();
    const form = /** @type {HTMLFormElement} */ (event.target);
    const id = form.dataset.rename;
    if (!id) return;
    const typed = new FormData(form);
    const words = (/** @type {string} */ name) => String(typed.get(name) ?? "").trim();
    const { title, note } = { title: words("title"), note: words("note") };
    const why = await this.rename(id, title, note).catch((error) => this.page.said(error));
    write(this.line, why ?? "");
    if (why) return;
    this.renaming = null;
    await this.draw();
    this.button("rename", id)?.focus();
  }

  /**
   * Another title and note: a step of the mount like any other.
   * @param {string} id @param {string} title @param {string} note
   * @returns {Promise<string|null>} why it is not taken
   */
  async rename(id, title, note) {
    /** @param {Mount} mount @returns {Mount} */
    const renamed = ({ note: _, ...mount }) => ({ ...mount, title, ...(note ? { note } : {}) });
    if (this.page.current()?.id === id) return this.page.change(renamed);
    const { revision, mount, command } = await answerOf(`/library/${id}`);
    const step = { revision, mount: renamed(mount), command, key: newKey() };
    await answerOf(`/library/${id}`, step, { method: "PUT" });
    return null;
  }

  /** A copy as a variant of a kept mount. @param {string} id @returns {Promise<string>} its own id */
  async copy(id) {
    const { mount, command } = await answerOf(`/library/${id}`);
    const family = this.entries.find((each) => each.id === id)?.family;
    const taken = this.entries.filter((each) => each.family === family).map((each) => each.title);
    const title = titleOfCopy(mount.title, taken, vocabulary.limits.title);
    const copy = await answerOf("/library", { mount: { ...mount, title }, command, origin: id, key: newKey() });
    return copy.id;
  }

  /** Look at an earlier version; nothing is changed by it. @param {string} id @param {number} revision */
  async look(id, revision) {
    const { mount, command } = await answerOf(`/library/${id}/versions/${revision}`);
    const readout = await answerOf("/readout", { mount, command });
    this.looked = { id, revision, mount, command, words: this.page.words(readout) };
  }

  /** The version looked at becomes the newest step. @param {string} id */
  async bring(id) {
    const { looked } = this;
    if (!looked) return;
    if (this.page.current()?.id !== id) await this.page.open(id);
    this.dialog.close();
    this.page.show(looked.mount, looked.command);
  }
}
