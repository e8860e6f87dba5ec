/**
 * The mount at work, from behind: the sheet's own drawing where the run has it, its movements made larger.
 * @module pages/run/stage
 */

import { paint } from "../../core/paint.js";
import { firstState } from "../../core/store.js";
import { blade, others } from "../../sheet/marks/bodies.js";
import { datum, frame } from "../../sheet/marks/ground.js";
import { members } from "../../sheet/marks/members.js";
import { sceneOf } from "../../sheet/scene.js";
import { standing } from "../../values/placed.js";
import { h, px, text } from "../../values/shapes.js";
import { amount } from "../../values/units.js";
import { fit } from "../../values/view.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {import("../../values/placed.js").Standing} Standing */

const DEGREES = 180 / Math.PI;

/** Room beside the blade for the tolerance and a pointer at each end, pixels. */
const MARGIN = 48;

/** How far below the grade the numbers stand, pixels: what moves stays above. */
const NUMBERS = 62;

/**
 * Bodies on a frame that the ground lifts and turns, every movement so many times as large as it is.
 * @param {Record<string, Point>} drawn reference points as drawn, mm
 * @param {ReturnType<import("./series.js").Series["standing"]>} stood
 * @param {number} track mm @param {number} times
 * @returns {Record<string, Standing>} the frame among them
 */
export function enlarged(drawn, { bodies, frame: on }, track, times) {
  const turn = Math.atan((on.right - on.left) / track);
  const lift = (on.right + on.left) / 2;
  /** @type {Record<string, Standing>} */
  const found = { frame: { drawn: [0, 0], at: [0, times * lift], angle: times * turn * DEGREES } };
  for (const [name, { at, angle }] of Object.entries(bodies)) {
    const from = drawn[name];
    if (!from) continue;
    // Small movements add up: that of the mount, and that of the frame where the body is.
    const moved = [at[0] - from[0] - turn * at[1], at[1] - from[1] + lift + turn * at[0]];
    found[name] = {
      drawn: from,
      at: [from[0] + times * moved[0], from[1] + times * moved[1]],
      angle: times * (angle + turn * DEGREES),
    };
  }
  return found;
}

/**
 * @typedef {Object} Staged
 * @property {Mount} mount
 * @property {Record<string, Point>} drawn
 * @property {import("./series.js").Series} series
 * @property {number} time s
 * @property {number} track mm
 * @property {number} times
 * @property {System} system
 * @property {boolean} quiz whether the numbers are hidden
 */

export class Stage {
  /** @param {SVGSVGElement} svg */
  constructor(svg) {
    this.svg = svg;
    this.size = { width: 100, height: 100 };
  }

  /** Pixels a mm may take of a blade so wide. @param {number} width mm */
  scaleOf(width) {
    return (this.size.width - 2 * MARGIN) / width;
  }

  measure() {
    const box = this.svg.getBoundingClientRect();
    this.size = { width: Math.max(box.width, 50), height: Math.max(box.height, 50) };
    this.svg.setAttribute("viewBox", `0 0 ${this.size.width} ${this.size.height}`);
  }

  /** @param {Staged} staged */
  draw(staged) {
    const { mount, drawn, series, time, track, times, system } = staged;
    const view = fit(pointsOf(mount), this.size, { left: MARGIN, right: MARGIN, top: 34, bottom: NUMBERS + 8 });
    const bodies = enlarged(drawn, series.standing(time), track, times);
    /** @type {(body: string, at: Point) => [number, number]} */
    const place = (body, at) => view.apply(standing(at, bodies[body]));
    const scene = { ...sceneOf({ ...firstState(), mount, view, system }, this.size), place };
    const drawing = [datum, others, blade, frame, members].map((layer) =>
      h(
        "g",
        { key: layer.name },
        layer(scene).filter((shape) => !("asked" in shape)),
      ),
    );
    paint(this.svg, [
      ...band(mount, view, times),
      ...drawing,
      ...["left", "right"].map((end) => pointer(/** @type {EndName} */ (end), staged, place, view, this.size.width)),
    ]);
  }
}

/** @param {Mount} mount */
function pointsOf(mount) {
  const points = [mount.blade.left, mount.blade.right];
  for (const member of mount.members) points.push(...(member.ends ? member.ends.map((end) => end.at) : [member.at]));
  if (mount.sensors) points.push(mount.sensors.left, mount.sensors.right);
  return points;
}

/**
 * The tolerance about the grade at both ends.
 * @param {Mount} mount @param {import("../../values/view.js").View} view @param {number} times
 */
function band(mount, view, times) {
  const { tolerance, blade: edge } = mount;
  if (!tolerance) return [];
  return /** @type {const} */ (["left", "right"]).map((end) => {
    const [x, y] = view.apply(edge[end]);
    const half = tolerance * times * view.scale;
    const out = end === "left" ? -30 : 6;
    return h("rect", {
      key: `band ${end}`,
      x: px(x + out),
      y: px(y - half),
      width: 24,
      height: px(2 * half),
      class: "band",
    });
  });
}

/**
 * How far an end is off grade, with a pointer to it.
 * @param {EndName} end @param {Staged} staged
 * @param {(body: string, at: Point) => [number, number]} place @param {import("../../values/view.js").View} view
 * @param {number} width of the stage, pixels
 */
function pointer(end, { mount, series, time, system, quiz }, place, view, width) {
  const [x, y] = place("blade", mount.blade[end]);
  const grade = view.apply(mount.blade[end]);
  const off = series.errorsAt(time)[end];
  const out = end === "left" ? -1 : 1;
  const words = amount(off, "fine", system, { sign: true });
  return h("g", { key: `off ${end}`, class: `off ${end}` }, [
    h("path", { d: `M${px(x + out * 8)} ${px(y)}l${out * 11} -6v12z` }),
    text([end === "left" ? 6 : width - 6, grade[1] + NUMBERS], quiz ? "?" : words, {
      "text-anchor": end === "left" ? "start" : "end",
    }),
  ]);
}
