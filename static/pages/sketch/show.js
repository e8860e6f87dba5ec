/**
 * Shows the state of the sketch: one picture a frame, whatever changed, and nothing is changed by it.
 * @module pages/sketch/show
 */

import { oncePerFrame } from "../../core/frame.js";
import { mark, paint, write } from "../../core/paint.js";
import { besideOnly, noting } from "../../core/reading.js";
import { firstLook } from "../../panels/firstlook.js";
import { headlines } from "../../panels/headlines.js";
import { memberTable } from "../../panels/membertable.js";
import { noticeStrip } from "../../panels/notices.js";
import { picked } from "../../panels/picked.js";
import { picker } from "../../panels/picker.js";
import { planeKey } from "../../panels/planekey.js";
import { strokePlane } from "../../panels/strokeplane.js";
import { strokes } from "../../panels/strokes.js";
import { panel, tabs } from "../../panels/tabs.js";
import { titleblock } from "../../panels/titleblock.js";
import { ROOM, board } from "../../panels/wall.js";
import { runOnWall } from "./runboard.js";
import { strip } from "../../panels/wallstrip.js";
import { stepList, undoWords } from "../../panels/steps.js";
import { variantsRoom } from "../../panels/variants.js";
import { toolRow, tools } from "../../panels/tools.js";

/** @typedef {import("../../core/store.js").State} State */

/**
 * What stands in each room of the page.
 * @type {[string, (state: State) => import("../../values/shapes.js").Shape[]][]}
 */
const PLACES = [
  ["#headlines", headlines],
  ["#tabs", tabs],
  ["#panel", panel],
  ["#notices", noticeStrip],
  ["#toolrow", toolRow],
  ["#tools", tools],
  ["#guide", firstLook],
  ["#strokes", strokes],
  ["#plane", strokePlane],
  ["#plane-key", planeKey],
  ["#titleblock", titleblock],
  ["#table-room", memberTable],
  ["#variants-room", variantsRoom],
  ["#steps-room", stepList],
  ["#picked", picked],
  ["#board", (state) => board(state, { run: runOnWall })],
  ["#wall-strip", strip],
];

/** What stands on the wall where its room hangs on that, or that a question or a sum does. @param {State} state */
function boardOf({ demo }) {
  return !demo.quiz && !demo.unveiled && [ROOM, "working"].includes(demo.board) ? demo.board : "sum";
}

/** @param {string} selector @returns {HTMLElement} */
function find(selector) {
  return /** @type {HTMLElement} */ (document.querySelector(selector));
}

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../sheet/sheet.js").Sheet} sheet
 * @param {{name: string, mount: Mount}[]} shipped
 */
export function showPage(store, sheet, shipped) {
  const aside = find("#readout");
  /** What changed since the last picture from beside the numbers; null: more did. @type {string[]|null} */
  let beside = null;
  /** What each room and the sheet were last made of. @type {Map<string, Set<string>>} */
  const madeOf = new Map();
  const plan = oncePerFrame(() => {
    const { mount } = store.state;
    const changed = beside;
    beside = [];
    if (!mount) return;
    if (changed) showBeside(store.state, changed);
    else show(store.state);
  });
  store.listen((state, before) => {
    // Numbers are called live only once they are painted; that they wait is said at once, and that a step is not kept.
    if (dataState(state) === "waiting") mark(aside, "data-state", "waiting");
    if (state.kept !== before.kept) write(find("#kept"), state.kept);
    const more = besideOnly(state, before);
    beside = beside && more && [...beside, ...more];
    plan();
  });

  /** A state that is noted to be what a room is made of. @param {string} room @param {State} state */
  function noted(room, state) {
    /** @type {Set<string>} */
    const read = new Set();
    madeOf.set(room, read);
    return noting(state, read);
  }

  /** Only what is made of what changed. @param {State} state @param {string[]} changed */
  function showBeside(state, changed) {
    const isMadeOf = (/** @type {string} */ room) => changed.some((key) => madeOf.get(room)?.has(key));
    if (isMadeOf("#sheet")) sheet.draw(noted("#sheet", state));
    for (const [room, shapes] of PLACES) if (isMadeOf(room)) paint(find(room), shapes(noted(room, state)));
  }

  /** @param {State} state */
  function show(state) {
    sheet.draw(noted("#sheet", state));
    for (const [room, shapes] of PLACES) paint(find(room), shapes(noted(room, state)));
    paint(find("#picker"), picker(shipped, state.shipped));
    write(find("#mount-title"), state.mount.title);
    write(find("#mount-note"), state.mount.note ?? "");
    mark(find("#mount-note"), "hidden", state.look !== null);
    mark(find("#picked"), "hidden", !find("#picked").firstChild);
    mark(find("#table-room"), "hidden", !state.table);
    mark(find("#variants-room"), "hidden", !state.variants.open);
    showVariants(state);
    showSteps(state);
    mark(find("#panel"), "aria-labelledby", `tab-${state.tab}`);
    mark(find('[data-action="undo"]'), "disabled", !state.canUndo);
    mark(find('[data-action="redo"]'), "disabled", !state.canRedo);
    for (const button of document.querySelectorAll("[data-system]"))
      mark(button, "aria-pressed", String(button.getAttribute("data-system") === state.system));
    document.body.classList.toggle("wall", state.demo.wall);
    mark(document.body, "data-board", state.demo.wall ? boardOf(state) : "");
    mark(find("#wall"), "hidden", !state.demo.wall);
    document.body.classList.toggle("quiz", state.demo.quiz);
    document.body.classList.toggle("tabled", state.table);
    mark(aside, "data-state", dataState(state));
  }
}

/** What undo and redo would do, and whether the list of steps is open. @param {State} state */
function showSteps(state) {
  mark(find("#steps-room"), "hidden", !state.stepsOpen);
  mark(find('.sheet-corner [data-action="steps"]'), "aria-expanded", String(state.stepsOpen));
  const { undo, redo } = undoWords(state);
  mark(find('[data-action="undo"]'), "title", undo);
  mark(find('[data-action="redo"]'), "title", redo);
}

/** The button that opens the variants says how many there are. @param {State} state */
function showVariants({ variants: { family, open } }) {
  const button = find('.sheet-corner [data-action="variants"]');
  write(button, family.length > 1 ? `variants ${family.length}` : "variants");
  mark(button, "aria-expanded", String(open));
}

/** @param {State} state */
function dataState(state) {
  if (state.link === "offline") return "offline";
  if (state.refusal || (state.answered && state.answered.mobility.state !== "located")) return "stale";
  return state.link === "waiting" || state.asking ? "waiting" : "live";
}
