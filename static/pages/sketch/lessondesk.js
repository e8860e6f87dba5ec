/**
 * Where lessons are chosen and written: what the buttons and fields of their dialog do.
 * @module pages/sketch/lessondesk
 */

import { LessonBook } from "../../core/lessonbook.js";
import { stepOfSheet } from "../../core/lessonsteps.js";
import { paint, write } from "../../core/paint.js";
import { said } from "../../core/server.js";
import { download, named, readDocument } from "../../document/files.js";
import { fieldOf, withStep, withStepChanged, withStepMoved, withoutStep } from "../../document/lessons.js";
import { lessonShapes } from "../../panels/lessons.js";

/** @typedef {{at: number, of: string}} Pressed which step and which lesson a button is about */

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../core/lessonplayer.js").LessonPlayer} player
 * @param {{name: string, mount: Mount}[]} shipped
 * @param {<Selector extends string>(selector: Selector) => ElementAt<Selector>} find
 */
export function lessonDesk(store, player, shipped, find) {
  const dialog = find("#lessons");
  const file = find("#lesson-file");
  const book = new LessonBook(show, (error) => said(error, store.state.system));

  function show() {
    paint(find("#lesson-room"), lessonShapes(book.state, shipped));
    write(find("#lesson-said"), book.state.said);
  }

  /** @param {Lesson} document @param {number} [at] */
  function play(document, at) {
    dialog.close();
    player.begin(document, at);
  }

  /**
   * What may be done to the steps of the draft.
   * @param {Lesson} document @returns {Record<string, (at: number) => void>}
   */
  const ofDraft = (document) => ({
    take: () => book.change(withStep(document, document.steps.length, stepOfSheet(store.state))),
    add: () => {
      const last = document.steps[document.steps.length - 1];
      book.change(withStep(document, document.steps.length, { ...last, say: "", question: null, moves: null }));
    },
    retake: (at) => book.change(withStepChanged(document, at, { ...BARE, ...stepOfSheet(store.state) })),
    up: (at) => book.change(withStepMoved(document, at, -1)),
    down: (at) => book.change(withStepMoved(document, at, 1)),
    from: (at) => play(document, at),
    remove: (at) => book.change(withoutStep(document, at), { removed: { step: document.steps[at], at } }),
    "put-back": () => {
      const { removed } = book.state;
      if (removed) book.change(withStep(document, removed.at, removed.step));
    },
  });

  /** What the other buttons do. @type {Record<string, (of: string) => void>} */
  const ways = {
    new: () => book.begin(stepOfSheet(store.state)),
    open: () => file.click(),
    back: () => book.bringBack(),
    list: () => book.close(),
    edit: (of) => book.edit(of),
    copy: (of) => book.copy(of),
    away: (of) => book.putAway(of),
    play: (of) => book.trying(async () => play(await wanted(of))),
    save: (of) =>
      book.trying(async () => {
        const lesson = await wanted(of);
        const text = `${JSON.stringify(lesson, null, 1)}\n`;
        download(new Blob([text], { type: "application/json" }), named(lesson, "lesson.json"));
        book.set({ said: "Saved as a file: it opens here again." });
      }),
  };

  /** @param {string} of */
  async function wanted(of) {
    return book.state.draft?.id === of ? book.state.draft.document : book.document(of);
  }

  dialog.addEventListener("change", ({ target }) => {
    const { draft } = book.state;
    if (!draft || !(target instanceof HTMLElement) || !("value" in target)) return;
    const { lessonField, at } = target.dataset;
    const value = String(target.value);
    if (!lessonField) return;
    if (at === undefined) book.change({ ...draft.document, [lessonField]: value });
    else book.change(withStepChanged(draft.document, Number(at), fieldOf(lessonField, value)));
  });
  file.addEventListener("change", () =>
    book.trying(async () => {
      const chosen = file.files?.[0];
      file.value = "";
      // any: a file of the user's; the server reads it and says what is wrong with it.
      if (chosen) await book.add(/** @type {any} */ (await readDocument(chosen, "a lesson")));
    }),
  );

  return {
    /** Show them all, or the one that is being written. */
    show: async () => {
      show();
      if (!dialog.open) dialog.showModal();
      await book.list();
    },
    /** What a button does. @param {string} what @param {HTMLElement} button */
    press: (what, { dataset }) => {
      const document = book.state.draft?.document;
      const change = document && ofDraft(document)[what];
      if (change) change(Number(dataset.at));
      else ways[what]?.(dataset.of ?? "");
    },
    /** A shipped one, from its address. @param {string} name */
    open: async (name) => {
      await book.list();
      await book.trying(async () => player.begin(await book.document(name)));
    },
  };
}

/** What the sheet does not say is left out of a step that is taken from it. @type {Partial<LessonStep>} */
const BARE = { in_inches: null, command: {}, cylinder: null, question: null };
