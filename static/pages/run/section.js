/**
 * The long section: the ground before, and what the two ends of the edge leave, off grade over the way.
 * @module pages/run/section
 */

import { h, line, px, text, through } from "../../values/shapes.js";
import { amount, unit } from "../../values/units.js";
import { vocabulary } from "../../values/vocabulary.js";
import { thinned } from "./series.js";

const LEFT = 52;
const RIGHT = 16;
const LOW = 22;
const HIGH = 8;
/** Letters that fit in that room, pixels; what is larger has more. */
const SMALL = 16;

/** The room beside and below for letters so high, pixels. @param {number} letters */
function roomFor(letters) {
  const larger = Math.max(letters / SMALL, 1);
  return { left: LEFT * larger, low: LOW * larger };
}

/**
 * @typedef {Object} Section
 * @property {import("./series.js").Series} series
 * @property {{width: number, height: number}} size pixels
 * @property {number} seconds how long the whole run is
 * @property {number} speed m/s; along a standing machine there is time instead of a way
 * @property {number} reach mm off grade at the upper and lower edge
 * @property {number|null} tolerance mm
 * @property {number|null} now s
 * @property {number} letters height of those beside it, pixels
 * @property {System} system
 */

/** The smallest round step, 1, 2, 5, 10 ..., that is no less than so much. @param {number} least */
export function stepOf(least) {
  const power = 10 ** Math.floor(Math.log10(least) + 1e-9);
  return power * ([1, 2, 5].find((each) => each * power >= least - 1e-9 * power) ?? 10);
}

/** The magnification of heights against the way, as a drawing says it. @param {Section} section */
export function magnificationOf({ size, seconds, speed, reach, letters }) {
  if (!speed) return null;
  const { left, low } = roomFor(letters);
  const along = (size.width - left - RIGHT) / (seconds * speed * 1000);
  return (size.height - HIGH - low) / (2 * reach) / along;
}

/** @param {Section} section @returns {Shape[]} */
export function sectionShapes(section) {
  const { series, size, seconds, tolerance, reach, now, letters, system } = section;
  const { left: side, low: under } = roomFor(letters);
  const [width, height] = [size.width - side - RIGHT, size.height - HIGH - under];
  const x = (/** @type {number} */ time) => side + (width * time) / seconds;
  const y = (/** @type {number} */ mm) => HIGH + (height * (reach - mm)) / (2 * reach);
  const path = (/** @type {number[]} */ row) =>
    row.length > 1
      ? through(thinned(row, width).map(([at, value]) => /** @type {const} */ ([x(at * series.step), y(value)])))
      : "M0 0";
  const shapes = [...ruled(section, x, y)];
  if (tolerance) {
    const [top, low] = [y(Math.min(tolerance, reach)), y(-Math.min(tolerance, reach))];
    shapes.push(
      h("rect", { key: "band", x: side, y: px(top), width: px(width), height: px(low - top), class: "band" }),
    );
  }
  shapes.push(
    line([side, y(0)], [side + width, y(0)], { key: "grade", class: "grade" }),
    h("path", { key: "ground left", d: path(series.ground.left), class: "ground-before" }),
    h("path", { key: "ground right", d: path(series.ground.right), class: "ground-before dashed" }),
    h("path", { key: "left", d: path(series.errors.left), class: "edge-line left" }),
    h("path", { key: "right", d: path(series.errors.right), class: "edge-line right" }),
  );
  if (now !== null) {
    const { left, right } = series.errorsAt(now);
    shapes.push(
      line([x(now), HIGH], [x(now), HIGH + height], { key: "now", class: "cursor" }),
      h("circle", { key: "now left", cx: px(x(now)), cy: px(y(left)), r: 3.5, class: "at left" }),
      h("circle", { key: "now right", cx: px(x(now)), cy: px(y(right)), r: 3.5, class: "at right" }),
    );
  }
  shapes.push(
    h("rect", { key: "frame", x: side, y: HIGH, width: px(width), height: px(height), class: "section-frame" }),
    text([side - 7, HIGH + Math.max(0.7 * letters, 9)], unit("error", system), {
      key: "unit",
      class: "rule-words",
      "text-anchor": "end",
    }),
  );
  return shapes;
}

/**
 * Heights and ways that are written beside.
 * @param {Section} section @param {(time: number) => number} x @param {(mm: number) => number} y
 */
function ruled({ size, seconds, speed, reach, letters, system }, x, y) {
  /** @type {Shape[]} */
  const shapes = [];
  const { left: side, low: under } = roomFor(letters);
  const { factor } = vocabulary.quantities.error[system];
  const apart = stepOf((1.5 * letters * 2 * reach) / (size.height - HIGH - under) / factor);
  // However low it is, one height beside zero is written.
  const step = Math.min(apart, stepOf(reach / factor / 2.5));
  for (let at = -Math.floor(reach / factor / step) * step; at <= reach / factor; at += step) {
    const level = Math.round(at / step) * step;
    const high = y(level * factor);
    shapes.push(line([side, high], [size.width - RIGHT, high], { key: `rule ${level}`, class: "rule" }));
    if (high < HIGH + 1.5 * letters) continue;
    const words = level > 0 ? `+${short(level)}` : short(level).replace("-", "−");
    const attrs = { key: `height ${level}`, class: "rule-words", "text-anchor": "end" };
    shapes.push(text([side - 7, high + Math.max(0.35 * letters, 4)], words, attrs));
  }
  const quantity = speed ? "way" : "time";
  const per = speed || 1;
  const along = vocabulary.quantities[quantity][system].factor;
  const whole = (seconds * per) / along;
  const stride = stepOf((5 * letters * whole) / (size.width - side - RIGHT));
  for (let at = 0; at <= whole + 1e-9; at += stride) {
    const time = (at * along) / per;
    const foot = size.height - under;
    shapes.push(line([x(time), foot], [x(time), foot + 4], { key: `tick ${at}`, class: "tick" }));
    const last = at + stride > whole;
    const words = last ? amount(at * along, quantity, system).replace(/([.,]0+)(?=\D*$)/, "") : short(at);
    const near = last && x(time) > size.width - RIGHT - 2 * letters;
    const attrs = {
      key: `way ${at}`,
      class: "rule-words",
      "text-anchor": at === 0 ? "start" : near ? "end" : "middle",
    };
    shapes.push(text([near ? size.width - RIGHT : x(time), size.height - Math.max(0.25 * letters, 5)], words, attrs));
  }
  return shapes;
}

/** @param {number} value */
function short(value) {
  return String(Number(value.toPrecision(6)));
}

/**
 * The time at a place of the section, s.
 * @param {number} x pixels @param {number} width of the section, pixels @param {number} seconds of the whole run
 * @param {number} letters height of those beside it, pixels
 */
export function timeAt(x, width, seconds, letters) {
  const { left } = roomFor(letters);
  return Math.min(Math.max(((x - left) / (width - left - RIGHT)) * seconds, 0), seconds);
}
