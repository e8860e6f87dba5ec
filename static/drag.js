/**
 * Gestures on the sheet: taking hold of the nearest handle, moving it, moving the paper, and the arrow keys. Gestures say
 * where things should go; they never touch the document.
 * @module drag
 */

import { targetRadius } from "./marks/handles.js";

/**
 * @typedef {Object} Hands
 * @property {(name: string) => [number, number]} whereIs pixels of a handle
 * @property {(name: string) => void} onPick
 * @property {(name: string) => void} onStart a move begins
 * @property {(name: string, at: [number, number], free: boolean) => void} onMove pixels; free of the grid
 * @property {(name: string) => void} onEnd
 * @property {(name: string) => void} onCancel put it back where the move began
 * @property {(at: [number, number]) => boolean} onTap a tap on the paper; true when it was used
 * @property {(dx: number, dy: number) => void} onPan
 * @property {(at: [number, number], factor: number) => void} onZoom
 * @property {(name: string, dx: number, dy: number) => void} onNudge steps of the grid, y up
 * @property {(id: string) => void} onChoose
 */

/**
 * @param {import("./sheet.js").Sheet} sheet
 * @param {Hands} hands
 */
export function listen(sheet, hands) {
  const { svg } = sheet;
  /** @type {{pointer: number, name: string|null, grab: [number, number], from: [number, number], moved: boolean}|null} */
  let held = null;

  svg.addEventListener("pointerdown", (event) => {
    if (held || event.button !== 0) return;
    const at = sheet.at(event);
    const name = nearest(sheet, at, hands);
    const grab = name ? hands.whereIs(name) : at;
    held = { pointer: event.pointerId, name, grab: [at[0] - grab[0], at[1] - grab[1]], from: at, moved: false };
    svg.setPointerCapture(event.pointerId);
    event.preventDefault();
    if (!name) return;
    hands.onPick(name);
    /** @type {SVGElement|null} */ (svg.querySelector(`[data-handle="${CSS.escape(name)}"]`))?.focus({ preventScroll: true });
  });

  svg.addEventListener("pointermove", (event) => {
    if (!held || event.pointerId !== held.pointer) return;
    const at = sheet.at(event);
    if (!held.moved) {
      if (Math.hypot(at[0] - held.from[0], at[1] - held.from[1]) < (event.pointerType === "touch" ? 6 : 2)) return;
      held.moved = true;
      if (held.name) hands.onStart(held.name);
    }
    if (held.name) hands.onMove(held.name, [at[0] - held.grab[0], at[1] - held.grab[1]], event.altKey);
    else {
      hands.onPan(at[0] - held.from[0], at[1] - held.from[1]);
      held.from = at;
    }
  });

  svg.addEventListener("pointerup", (event) => {
    if (!held || event.pointerId !== held.pointer) return;
    const { name, moved, from } = held;
    held = null;
    if (name && moved) hands.onEnd(name);
    else if (!moved && !name && !hands.onTap(from)) {
      const member = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-member]");
      if (member) hands.onChoose(member.getAttribute("data-member") ?? "");
    }
  });

  const cancel = () => {
    if (held?.name && held.moved) hands.onCancel(held.name);
    held = null;
  };
  svg.addEventListener("pointercancel", cancel);

  svg.addEventListener("wheel", (event) => {
    event.preventDefault();
    hands.onZoom(sheet.at(event), Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0015)));
  }, { passive: false });

  svg.addEventListener("focusin", (event) => {
    const name = handleOf(event.target);
    if (name && !held) hands.onPick(name);
  });

  addEventListener("keydown", (event) => {
    if (event.key === "Escape" && held) {
      cancel();
      event.preventDefault();
    }
  });

  svg.addEventListener("keydown", (event) => {
    const name = handleOf(event.target);
    const step = STEPS[event.key];
    if (!name) return;
    if (event.key === "Escape") hands.onCancel(name);
    else if (step && !event.ctrlKey && !event.metaKey) {
      const times = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
      hands.onNudge(name, step[0] * times, step[1] * times);
    } else return;
    event.preventDefault();
  });
}

/** @type {Record<string, [number, number]>} */
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** @param {EventTarget|null} target */
function handleOf(target) {
  return target instanceof Element ? (target.closest("[data-handle]")?.getAttribute("data-handle") ?? null) : null;
}

/** @param {import("./sheet.js").Sheet} sheet @param {[number, number]} at @param {Hands} hands */
function nearest(sheet, at, hands) {
  let best = null;
  let least = targetRadius();
  for (const element of sheet.svg.querySelectorAll("[data-handle]")) {
    const name = element.getAttribute("data-handle") ?? "";
    const [x, y] = hands.whereIs(name);
    const distance = Math.hypot(x - at[0], y - at[1]);
    if (distance <= least) {
      least = distance;
      best = name;
    }
  }
  return best;
}
