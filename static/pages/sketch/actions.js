/**
 * What the buttons of the sketch do: a table from the name of an action to a function, put together from those of each
 * topic, and what the other attributes of a button ask for.
 * @module pages/sketch/actions
 */

import { byName } from "../../core/clicks.js";
import { asking, onWall } from "../../core/wallsteps.js";
import { withEdit } from "../../document/edits.js";
import { withoutHeld } from "../../document/dimensions.js";
import { withoutBody, withoutMembers } from "../../document/draw.js";
import { preferUnits } from "../../values/units.js";
import { editing } from "./actions/editing.js";
import { exporting, filing } from "./actions/filing.js";
import { improving, searching } from "./actions/improving.js";
import { keeping } from "./actions/keeping.js";
import { showing } from "./actions/showing.js";
import { varying } from "./actions/varying.js";
import { travelling } from "./actions/travelling.js";
import { viewing } from "./actions/viewing.js";

/** @typedef {Record<string, () => void>} Actions */

/**
 * What the actions work with.
 * @typedef {Object} Desk
 * @property {import("../../core/store.js").Store} store
 * @property {import("../../core/editor.js").Editor} editor
 * @property {import("../../sheet/drafter.js").Drafter} drafter
 * @property {import("../../core/autosave.js").Autosave} autosave
 * @property {import("../../panels/library.js").LibraryDialog} library
 * @property {import("../../sheet/sheet.js").Sheet} sheet
 * @property {import("../../core/demonstration.js").Demonstration} demonstration
 * @property {import("../../core/variants.js").Variants} variants
 * @property {import("../../core/firstlook.js").FirstLook} firstLook
 * @property {import("../../core/lessonplayer.js").LessonPlayer} lessons
 * @property {import("../../core/ghosting.js").Ghosting} ghosting
 * @property {import("../../core/searcher.js").Searcher} searcher
 * @property {ReturnType<typeof import("./lessondesk.js").lessonDesk>} lessonRoom
 * @property {(name: string) => void} openShipped
 * @property {(mount: Mount, command?: Command) => Promise<void>} openDocument
 * @property {{copy: (chosen: Set<string>) => void, paste: () => void}} clipboard
 * @property {() => void} fillDown fills down from the cell of the table picked last
 * @property {() => void} setEnd sets the end that is in hand
 * @property {<Selector extends string>(selector: Selector) => ElementAt<Selector>} find
 */

/** The tab that a room of the readout stands under. @type {Record<string, string>} */
const TAB_OF = { working: "working" };

/** @param {Desk} desk @returns {Actions} */
export function actions(desk) {
  return {
    ...editing(desk),
    ...viewing(desk),
    ...keeping(desk),
    ...filing(desk),
    ...searching(desk),
    ...varying(desk),
    ...travelling(desk),
  };
}

/** @param {Desk} desk @param {(action: string) => void} act @returns {import("../../core/clicks.js").Buttons} */
export function buttons(desk, act) {
  const { store, editor, drafter, sheet, firstLook, openShipped, find, variants } = desk;
  const show = byName(showing(desk));
  return {
    ...improving(desk),
    ...exporting(desk),
    action: act,
    demo: show,
    board: (board) => {
      store.set(({ demo, tab }) => ({ demo: { ...demo, ...onWall(board) }, tab: TAB_OF[board] ?? tab }));
    },
    question: (name) => {
      store.set((state) => ({ demo: { ...state.demo, ...asking(state, name) } }));
    },
    lesson: (what, button) => desk.lessonRoom.press(what, button),
    lessonStep: (at) => desk.lessons.go(Number(at)),
    guide: (look) => (look === "next" ? firstLook.next() : firstLook.end()),
    tab: (tab) => store.set({ tab }),
    seek: (seek, { dataset: { of } }) => {
      const end = of === "left" || of === "right" ? of : store.state.end;
      const { demo } = store.state;
      store.set({ tab: "working", seek, end, ...(demo.wall ? { demo: { ...demo, ...onWall("working") } } : {}) });
      if (of && of !== end) editor.choose(of);
    },
    edit: (edit) => editor.change(withEdit(store.state.mount, edit, store.state.system)),
    mount: (name) => openShipped(name),
    jump: (at) => editor.jump(Number(at)),
    variant: (id) => variants.take(id),
    ghost: (id) => variants.ghost(id),
    choose: (id) => editor.choose(id),
    stand: (command) => editor.work(JSON.parse(command)),
    tool: (tool) => {
      drafter.take(tool || null);
      if (tool) sheet.svg.focus({ preventScroll: true });
    },
    onto: (body) => {
      store.set({ onto: body || null });
      sheet.svg.focus({ preventScroll: true });
    },
    pick: (joint) => find(`[data-handle="${CSS.escape(joint)}"]`)?.focus(),
    remove: (id) => {
      editor.change(withoutMembers(store.state.mount, new Set([id])));
      find("#panel").focus({ preventScroll: true });
    },
    lineset: (set) => {
      store.set({ lineSet: /** @type {import("../../document/construction.js").Set} */ (set) });
      sheet.svg.focus({ preventScroll: true });
    },
    way: (way) => {
      store.set({ way: /** @type {Dimension["way"]} */ (way) });
      sheet.svg.focus({ preventScroll: true });
    },
    release: (index) => {
      store.set({ dimension: null });
      editor.change(withoutHeld(store.state.mount, Number(index)));
    },
    reach: (id) => editor.fit(id),
    removeBody: (body) => editor.change(withoutBody(store.state.mount, body)),
    close: (_, button) => button.closest("dialog")?.close(),
    system: (name) => {
      const system = /** @type {System} */ (name);
      preferUnits(system);
      store.set({ system });
    },
  };
}
