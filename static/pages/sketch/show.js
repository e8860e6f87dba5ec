/**
 * Shows the state: one picture a frame, whatever changed.
 * @module pages/sketch/show
 */

import { staffRoom } from "../../sheet/marks/staff.js";
import { firstLook } from "../../panels/firstlook.js";
import { headlines } from "../../panels/headlines.js";
import { memberTable } from "../../panels/membertable.js";
import { notices } from "../../panels/notices.js";
import { picked } from "../../panels/picked.js";
import { picker } from "../../panels/picker.js";
import { strokes } from "../../panels/strokes.js";
import { tabs } from "../../panels/tabs.js";
import { titleblock } from "../../panels/titleblock.js";
import { toolRow, tools } from "../../panels/tools.js";
import { magnificationFor } from "../../sheet/scene.js";
import { paint } from "../../core/paint.js";

/** @param {string} selector @returns {HTMLElement} */
function find(selector) {
  return /** @type {HTMLElement} */ (document.querySelector(selector));
}

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../core/editor.js").Editor} editor
 * @param {import("../../sheet/sheet.js").Sheet} sheet
 * @param {{name: string, mount: any}[]} shipped
 */
export function showPage(store, editor, sheet, shipped) {
  const aside = find("#readout");
  let planned = false;
  store.listen((state) => {
    // Numbers are called live only once they are painted; that they wait is said at once.
    if (dataState(state) === "waiting") aside.dataset.state = "waiting";
    if (planned) return;
    planned = true;
    requestAnimationFrame(() => {
      planned = false;
      render();
    });
  });

  function render() {
    if (!store.state.mount) return;
    store.state = rescaled(store.state, sheet);
    const { state } = store;
    sheet.draw(state);
    paint(find("#headlines"), headlines(state));
    tabs(find("#tabs"), find("#panel"), state);
    paint(find("#notices"), notices(state));
    paint(find("#picker"), picker(shipped, state.shipped));
    paint(find("#toolrow"), toolRow(state));
    paint(find("#tools"), tools(state));
    paint(find("#guide"), firstLook(state));
    document.body.classList.toggle("projector", state.demo.projector);
    document.body.classList.toggle("quiz", state.demo.quiz);
    strokes(find("#strokes"), state);
    titleblock(find("#titleblock"), state);
    memberTable(find("#table-room"), state);
    picked(find("#picked"), state);
    find("#mount-title").textContent = state.mount.title;
    find("#mount-note").textContent = state.mount.note ?? "";
    find("#mount-note").hidden = state.look !== null;
    find("#kept").textContent = state.kept;
    for (const button of document.querySelectorAll("[data-system]")) {
      button.setAttribute("aria-pressed", String(button.getAttribute("data-system") === state.system));
    }
    find('[data-action="undo"]').toggleAttribute("disabled", !editor.history.back);
    find('[data-action="redo"]').toggleAttribute("disabled", !editor.history.ahead);
    aside.dataset.state = dataState(state);
  }
}

/** @param {import("../../core/store.js").State} state @param {import("../../sheet/sheet.js").Sheet} sheet */
function rescaled(state, sheet) {
  if (!state.view) return state;
  const magnification = magnificationFor(
    withGrade(state),
    state.view.scale,
    staffRoom(sheet.size),
    state.magnification,
  );
  return magnification === state.magnification ? state : { ...state, magnification };
}

/**
 * The newest readout, with room on the staffs for a grade that is worked to.
 * @param {import("../../core/store.js").State} state
 */
function withGrade({ answered, demo }) {
  if (!answered?.budget || !demo.correction) return answered;
  const { left, right, tolerance } = answered.budget;
  const least = 1.1 * demo.correction.off;
  return {
    budget: { left: { worst: Math.max(left.worst, least) }, right: { worst: Math.max(right.worst, least) }, tolerance },
  };
}

/** @param {import("../../core/store.js").State} state */
export function dataState(state) {
  if (state.link === "offline") return "offline";
  if (state.refusal || (state.answered && state.answered.mobility.state !== "located")) return "stale";
  return state.link === "waiting" || state.asking ? "waiting" : "live";
}
