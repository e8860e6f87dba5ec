/**
 * The library: the person's own mounts beside the shipped ones, earlier versions, and what was deleted.
 * @module panels/library
 */

import { answerOf } from "../core/server.js";
import { thumbnail } from "./picker.js";
import { paint } from "../core/paint.js";
import { h } from "../values/shapes.js";

/** The shapes of a small picture; none where it cannot be read. @param {Picture|null} picture */
function small(picture) {
  if (!picture || picture.edge[0] === picture.edge[2]) return [];
  const [x1, y1, x2, y2] = picture.edge;
  return thumbnail({
    blade: { left: [x1, y1], right: [x2, y2] },
    members: picture.members.map((each, index) => {
      const [kind, x, y] = each;
      const id = String(index);
      if (each.length === 3) return { kind, id, at: [x, y] };
      return { kind, id, ends: [{ at: [x, y] }, { at: [each[3], each[4]] }] };
    }),
  });
}

/** What cannot be read of a mount, said beside it. @param {LibraryEntry} each */
function unreadable({ unreadable: [newest, ...more], picture }) {
  if (!newest) return [];
  const steps = more.length ? `Steps ${[newest, ...more].reverse().join(", ")}` : `Step ${newest}`;
  const rest = picture ? "the one before is shown." : "no version of it can be: look into the backups.";
  return [h("p", { key: "unreadable", class: "said" }, `${steps} cannot be read any more; ${rest}`)];
}

export class LibraryDialog {
  /**
   * @param {HTMLDialogElement} dialog
   * @param {Object} page
   * @param {(id: string) => void} page.open
   * @param {(mount: Mount, command: Command) => void} page.show
   * @param {(readout: Readout) => string[]} page.words
   * @param {() => string|null} page.current id of the mount on the sheet
   * @param {(words: string) => void} page.failed
   * @param {(error: unknown) => string} page.said what went wrong, in words
   */
  constructor(dialog, page) {
    this.dialog = dialog;
    this.page = page;
    this.list = /** @type {Element} */ (dialog.querySelector("[data-list]"));
    this.deleted = false;
    /** @type {{id: string, entries: VersionEntry[]}|null} */
    this.versions = null;
    /**
     * The version that is looked at.
     * @type {{id: string, revision: number, mount: Mount, command: Command, words: string[]}|null}
     */
    this.looked = null;
    dialog.addEventListener("click", (event) => this.clicked(event));
  }

  async open() {
    this.versions = this.looked = null;
    this.deleted = false;
    if (!this.dialog.open) this.dialog.showModal();
    await this.draw();
  }

  async draw() {
    try {
      const entries = await answerOf(this.deleted ? "/library?deleted=1" : "/library");
      const happened = await answerOf("/library/said");
      paint(this.list, [
        ...happened.map((/** @type {string} */ words) => h("p", { key: words, class: "said" }, words)),
        ...(entries.length
          ? []
          : [
              h(
                "p",
                { key: "none", class: "said quiet" },
                this.deleted
                  ? "Nothing was deleted."
                  : "Nothing of your own yet: change a shipped mount and the copy is kept here.",
              ),
            ]),
        ...entries.flatMap((each) => [this.entry(each), ...this.versionsOf(each.id)]),
        h(
          "button",
          { key: "deleted", type: "button", "data-library": "deleted" },
          this.deleted ? "back to the library" : "show what was deleted",
        ),
      ]);
    } catch (error) {
      paint(this.list, [h("p", { key: "why", class: "said" }, `The library cannot be read. ${this.page.said(error)}`)]);
    }
  }

  /** @param {LibraryEntry} each */
  entry(each) {
    const buttons = this.deleted
      ? [["restore", "bring back"]]
      : [
          ["open", "open"],
          ["versions", this.versions?.id === each.id ? "hide versions" : "earlier versions"],
          ["delete", "delete"],
        ];
    const now = this.page.current() === each.id;
    return h("div", { key: each.id, class: `kept-mount${now ? " now" : ""}`, "data-kept": each.id }, [
      {
        tag: "svg",
        attrs: { key: "svg", viewBox: "0 0 64 44", width: 96, height: 66, "aria-hidden": "true" },
        kids: small(each.picture),
      },
      h("div", { key: "words" }, [
        h("strong", { key: "title" }, each.title),
        ...unreadable(each),
        h(
          "p",
          { key: "when", class: "quiet" },
          `${now ? "on the sheet, " : ""}changed ${new Date(each.changed).toLocaleString()}`,
        ),
        h(
          "div",
          { key: "do", class: "tool-row" },
          buttons.map(([what, words]) =>
            h(
              "button",
              {
                key: what,
                type: "button",
                "data-library": what,
                "data-id": each.id,
                "aria-label": `${words}: ${each.title}`,
              },
              words,
            ),
          ),
        ),
      ]),
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
    } catch (error) {
      this.page.failed(this.page.said(error));
    }
    await this.draw();
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
    if (this.page.current() !== id) await this.page.open(id);
    this.dialog.close();
    this.page.show(looked.mount, looked.command);
  }
}
