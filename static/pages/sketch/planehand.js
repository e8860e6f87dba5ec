/**
 * The hand on the stroke plane and on curves over a stroke: drag, tap, or the arrow keys, and the cylinders work. Where
 * they can be is written on the drawing itself.
 * @module pages/sketch/planehand
 */

import { gridSteps } from "../../values/units.js";
import { own } from "../../values/own.js";

/** From here to as drawn, in pixels, is as drawn. */
const RESTS_PX = 4;
/** Half a step is the finest of a drag. */
const FINE = 0.5;

/** @type {Record<string, [number, number]>} */
const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** A step of the arrow keys and of a drag, mm: the least of the grid. @param {System} system */
function stepOf(system) {
  return Math.min(...gridSteps(system).map(({ step }) => step));
}

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../core/editor.js").Editor} editor
 */
export function listenToPlane(store, editor) {
  /** @type {{svg: SVGSVGElement, pointer: number, before: Command}|null} */
  let held = null;

  document.addEventListener("pointerdown", (event) => {
    const svg = event.target instanceof Element ? event.target.closest("svg[data-hand]") : null;
    if (!(svg instanceof SVGSVGElement) || event.button !== 0 || held) return;
    event.preventDefault();
    svg.setPointerCapture(event.pointerId);
    held = { svg, pointer: event.pointerId, before: store.state.command };
    dotOf(svg)?.focus({ preventScroll: true });
    editor.begin();
    stand(placeIn(svg, event, store.state.system));
  });

  document.addEventListener("pointermove", (event) => {
    if (held && event.pointerId === held.pointer) stand(placeIn(held.svg, event, store.state.system));
  });

  document.addEventListener("pointerup", (event) => {
    if (!held || event.pointerId !== held.pointer) return;
    held = null;
    editor.finish();
  });

  const cancel = () => {
    if (!held) return;
    const { before } = held;
    held = null;
    store.set({ command: before });
    editor.ask();
    editor.finish();
  };
  document.addEventListener("pointercancel", cancel);
  addEventListener(
    "keydown",
    (event) => {
      if (event.key !== "Escape" || !held) return;
      cancel();
      event.preventDefault();
      event.stopImmediatePropagation();
    },
    true,
  );

  document.addEventListener("keydown", (event) => {
    const dot = event.target instanceof Element ? event.target.closest("[data-dot]") : null;
    const svg = dot?.closest("svg[data-hand]");
    if (!(svg instanceof SVGSVGElement) || event.ctrlKey || event.metaKey) return;
    const step = own(KEYS, event.key);
    if (!step && event.key !== "Home") return;
    event.preventDefault();
    const size = stepOf(store.state.system) * (event.shiftKey ? 10 : event.altKey ? 0.1 : 1);
    /** @type {Command} */
    const moves = {};
    axesOf(svg).forEach(({ id, least, most }, axis) => {
      const now = own(store.state.command, id) ?? 0;
      moves[id] = step ? Math.min(Math.max(now + step[axis] * size, least), most) : 0;
    });
    editor.begin();
    stand(moves);
    editor.finish(Object.keys(moves).join());
  });

  /** @param {Command} moves */
  function stand(moves) {
    const { command } = store.state;
    if (Object.entries(moves).every(([id, move]) => (own(command, id) ?? 0) === move)) return;
    store.set({ command: { ...command, ...moves } });
    editor.ask();
  }
}

/** @param {Element} svg @returns {SVGElement|null} */
function dotOf(svg) {
  return svg.querySelector("[data-dot]");
}

/** The cylinders a drawing works: along it, and up it. @param {SVGSVGElement} svg */
function axesOf(svg) {
  const ends = (svg.dataset.ends ?? "").split(" ").map(Number);
  const [x0, y0, x1, y1] = (svg.dataset.box ?? "").split(" ").map(Number);
  const { level, upright } = svg.dataset;
  const across = { id: level ?? "", least: ends[0], most: ends[1], from: x0, to: x1 };
  return upright === undefined ? [across] : [across, { id: upright, least: ends[2], most: ends[3], from: y0, to: y1 }];
}

/**
 * Where a pointer stands, as mm longer than drawn.
 * @param {SVGSVGElement} svg @param {PointerEvent} event @param {System} system
 * @returns {Command}
 */
function placeIn(svg, event, system) {
  const box = svg.getBoundingClientRect();
  const { width } = svg.viewBox.baseVal;
  const scale = width / box.width;
  const at = [(event.clientX - box.left) * scale, (event.clientY - box.top) * scale];
  const step = FINE * stepOf(system);
  return Object.fromEntries(
    axesOf(svg).map(({ id, least, most, from, to }, axis) => {
      const move = least + ((at[axis] - from) / (to - from)) * (most - least);
      const rests = Math.abs(move) < (RESTS_PX * scale * (most - least)) / Math.abs(to - from) && !event.altKey;
      const round = rests ? 0 : Math.round(move / step) * step;
      return [id, Math.min(Math.max(round, least), most)];
    }),
  );
}
