/**
 * A graduated staff at each end of the blade: the tolerance hatched on it, the error range beside it stacked by source,
 * and a pointer where the end stands.
 * @module sheet/marks/staff
 */

import { cue } from "../../values/cues.js";
import { RANK, around, boxed, disc } from "../labels.js";
import { barring, label } from "../lettering.js";
import { explained, h, line, px } from "../../values/shapes.js";
import { amount, decimals, mmPerUnit, number } from "../../values/units.js";
import { worstOf } from "../../values/words.js";

const WIDTH = 18;
const BAR = 16;
/** What words keep clear of the staff on either side, pixels. */
const CLEAR = 3;

/** Pixels above and below zero. @param {{height: number}} size */
export function staffRoom(size) {
  return Math.min(Math.max(size.height * 0.2, 70), 170, Math.max(size.height / 2 - 22, 40));
}

/** @param {import("../scene.js").Scene} scene */
export function staffs(scene) {
  return ["left", "right"].map((end) =>
    h("g", { key: end, class: "staff" }, staff(scene, /** @type {"left"|"right"} */ (end))),
  );
}

/** @param {import("../scene.js").Scene} scene @param {"left"|"right"} end */
function staff(scene, end) {
  const away = end === "left" ? -1 : 1;
  const [edge, zero] = scene.view.apply(scene.mount.blade[end]);
  const x = edge + away * 88;
  const room = staffRoom(scene.size);
  const per = scene.magnification * scene.view.scale;
  /** @type {(mm: number) => number} */
  const y = (mm) => zero - mm * per;
  const budget = scene.numbers?.budget;
  const shapes = [
    label(
      `${end} end ${scene.magnification} : 1`,
      {
        name: `staff ${end} scale`,
        spots: [...around([x, zero - room], ["above"], [0, 18]), ...around([x, zero + room], ["below"], [0, 4])],
        rank: RANK.number,
      },
      { key: "scale", class: "staff-scale" },
    ),
    barring(
      h("rect", {
        key: "face",
        x: px(x - WIDTH / 2),
        y: px(zero - room),
        width: WIDTH,
        height: px(2 * room),
        class: "staff-face",
      }),
      boxed("staff", [x - WIDTH / 2 - CLEAR, zero - room], [x + WIDTH / 2 + CLEAR, zero + room]),
      // Its numbers stand where they must; what can stand elsewhere leaves them room.
      boxed("staff", [x - away * 12, zero - room], [x - away * 36, zero + room]),
    ),
  ];
  const tolerance = scene.mount.tolerance;
  if (tolerance) {
    const half = Math.min(tolerance * per, room);
    shapes.push(
      h("rect", {
        key: "band",
        x: px(x - WIDTH / 2),
        y: px(zero - half),
        width: WIDTH,
        height: px(2 * half),
        class: "staff-band",
      }),
    );
  }
  shapes.push(...graduations(scene, end, x, zero, room, per, away));
  if (scene.grade) shapes.push(...gradeMark(scene, end, x, zero, room, per, away));
  else if (budget) shapes.push(...errorBar(scene, budget, end, x + away * 34, y, room, zero));
  const { pose } = scene.numbers ?? {};
  if (pose) shapes.push(...standing(scene, pose, end, x, zero, room, per, away));
  return shapes;
}

/**
 * @param {import("../scene.js").Scene} scene
 * @param {EndName} end
 * @param {number} x
 * @param {number} zero
 * @param {number} room
 * @param {number} per
 * @param {number} away
 */
function graduations(scene, end, x, zero, room, per, away) {
  const factor = mmPerUnit(scene.system);
  const { major, parts } = divisions(per * factor);
  const minor = major / parts;
  const count = Math.floor(room / (minor * factor * per) + 1e-9);
  const inner = x - (away * WIDTH) / 2;
  let short = "";
  let long = "";
  const words = [];
  for (let tick = -count; tick <= count; tick += 1) {
    const y = px(zero - tick * minor * factor * per);
    if (tick % parts) {
      short += `M${px(inner)} ${y}h${away * 6}`;
      continue;
    }
    long += `M${px(inner)} ${y}h${away * 11}`;
    const value = (tick / parts) * major;
    const shown = value === 0 ? "0" : `${value < 0 ? "−" : "+"}${Number(Math.abs(value).toPrecision(6))}`;
    words.push(
      label(
        shown,
        {
          name: `staff ${end} ${shown}`,
          spots: around([inner, y], [away < 0 ? "right" : "left"], [4, 0]),
          rank: RANK.scale,
          steps: 0,
        },
        { key: `n${tick}`, class: "staff-number" },
      ),
    );
  }
  return [
    h("path", { key: "short", d: short, class: "staff-short" }),
    h("path", { key: "long", d: long, class: "staff-long" }),
    ...words,
  ];
}

/**
 * Numbered graduations of 1, 2 or 5 times a power of ten, far enough apart to read, and how many parts each has.
 * @param {number} per pixels per unit
 */
function divisions(per) {
  const decade = 10 ** Math.floor(Math.log10(30 / per));
  const first = [1, 2, 5, 10].find((each) => each * decade * per >= 30) ?? 10;
  const parts = first === 2 ? 4 : 5;
  return { major: first * decade, parts: (first * decade * per) / parts < 4 ? (parts === 4 ? 2 : 1) : parts };
}

/**
 * The error range stacked by source, widest first from zero outward.
 * @param {import("../scene.js").Scene} scene @param {Budget} budget @param {"left"|"right"} end @param {number} x
 * @param {(mm: number) => number} y @param {number} room @param {number} zero
 */
function errorBar(scene, budget, end, x, y, room, zero) {
  const { sources, rss } = budget[end];
  const { low, high, searched } = worstOf(budget, scene.detail, end);
  const clamp = (/** @type {number} */ value) => Math.min(Math.max(value, zero - room), zero + room);
  /** @type {import("../../values/shapes.js").Shape[]} */
  const shapes = [];
  for (const side of /** @type {const} */ (["low", "high"])) {
    let from = 0;
    for (const source of sources) {
      const to = from + source[side];
      const [a, b] = [clamp(y(from)), clamp(y(to))];
      from = to;
      if (Math.abs(a - b) < 0.3) continue;
      const place = { x: px(x - BAR / 2), y: px(Math.min(a, b)), width: BAR, height: px(Math.abs(a - b)) };
      const hue = hueOf(scene, source);
      shapes.push(h("rect", { key: `${source.id} ${source.kind} ${side}`, ...place, class: `source ${hue}` }));
      shapes.push(cue(source.kind, { key: `${source.id} ${source.kind} ${side} cue`, ...place }));
    }
  }
  const reach = BAR / 2 + 4;
  const outward = end === "left" ? -1 : 1;
  const outside = budget.tolerance !== null && Math.max(-low, high) > budget.tolerance;
  const how = searched ? "at its true worst" : "with every source at its worst";
  shapes.push(
    barring(
      h("path", {
        key: "worst",
        d: `M${px(x - reach)} ${px(clamp(y(high)))}h${2 * reach}M${px(x - reach)} ${px(clamp(y(low)))}h${2 * reach}`,
        class: outside ? "worst-mark outside" : "worst-mark",
      }),
      boxed("staff", [x - reach, clamp(y(high))], [x + reach, clamp(y(low))]),
    ),
  );
  const middle = (budget[end].low + budget[end].high) / 2;
  for (const side of [-1, 1]) {
    const at = clamp(y(middle + side * (rss - Math.abs(middle))));
    shapes.push(line([x - reach, at], [x + reach, at], { key: `rss ${side}`, class: "rss-mark" }));
  }
  const value = (/** @type {string} */ key, /** @type {number} */ size, /** @type {number} */ at) =>
    explained(
      `${amount(size, "error", scene.system, { sign: true })}: the ${end} end ${how} ` +
        `${key === "high" ? "upward" : "downward"}`,
      label(
        number(size, "error", scene.system, { sign: true }),
        {
          name: `staff ${end} worst ${key}`,
          spots: [x, x + outward * CLEAR, x + outward * 2 * CLEAR, x + outward * 4 * CLEAR]
            .flatMap((middle) => around([middle, at], [key === "high" ? "above" : "below"], [0, 4]))
            .concat(around([x, at], ["left", "right"], [reach, 0])),
          rank: RANK.value,
          keep: true,
        },
        { key, class: "staff-value" },
      ),
    );
  shapes.push(value("high", high, clamp(y(high))), value("low", low, clamp(y(low))));
  return shapes;
}

/** @param {import("../scene.js").Scene} scene @param {{id: string, member: string|null, kind: string}} source */
function hueOf(scene, source) {
  const name = source.member ?? `allowance ${source.id.split(" / ")[0]}`;
  return `hue-${scene.hues.get(name) ?? 7}`;
}

/**
 * Where the end stands against the staff: how far from where it was drawn.
 * @param {import("../scene.js").Scene} scene @param {Standing} pose @param {"left"|"right"} end @param {number} x
 * @param {number} zero @param {number} room @param {number} per @param {number} away
 */
function standing(scene, pose, end, x, zero, room, per, away) {
  const lift = pose.ends[end][1] - scene.mount.blade[end][1];
  if (Math.abs(lift) < 1e-6) return [];
  const off = Math.abs(lift * per) > room;
  const y = zero - Math.sign(lift) * Math.min(Math.abs(lift * per), room);
  const inner = x - away * (WIDTH / 2 + 24);
  const digits = decimals("fine", scene.system);
  const d = off
    ? `M${px(inner - 6)} ${px(y + Math.sign(lift) * 9)}h12l-6 ${-Math.sign(lift) * 10}z`
    : `M${px(inner)} ${px(y - 6)}v12l${away * 11} -6z`;
  const inward = away > 0 ? "left" : "right";
  const beyond = lift > 0 ? "above" : "below";
  const over = /** @type {import("../labels.js").Point} */ ([x, y]);
  const beside = /** @type {import("../labels.js").Point} */ ([inner, y]);
  const words = label(
    off
      ? amount(lift, "error", scene.system, { sign: true, digits })
      : number(lift, "error", scene.system, { sign: true, digits }),
    {
      name: `staff ${end} lift`,
      spots: off
        ? [...around(over, [beyond], [0, 3]), ...around(beside, [`${beyond} ${inward}`, inward], [4, 6])]
        : around(beside, [inward, `above ${inward}`, `below ${inward}`, "above", "below"], [4, 7]),
      rank: RANK.value,
      keep: true,
    },
    { key: "lift", class: off ? "staff-lift over" : "staff-lift" },
  );
  return [
    barring(h("path", { key: "pointer", d, class: "staff-pointer" }), disc("arrow", [inner, y], 6)),
    explained(
      `${amount(lift, "error", scene.system, { sign: true })}: how far the ${end} end stands from where it was drawn`,
      words,
    ),
  ];
}

/**
 * Where an end should come to.
 * @param {import("../scene.js").Scene} scene @param {"left"|"right"} end @param {number} x @param {number} zero
 * @param {number} room @param {number} per @param {number} away
 */
function gradeMark(scene, end, x, zero, room, per, away) {
  const lift = /** @type {{left: number, right: number}} */ (scene.grade)[end] - scene.mount.blade[end][1];
  const y = px(zero - Math.min(Math.max(lift * per, -room), room));
  return [
    h("path", { key: "grade", d: `M${px(x - WIDTH / 2 - 6)} ${y}h${WIDTH + 12}`, class: "grade-mark" }),
    label(
      "grade",
      {
        name: `staff ${end} grade`,
        spots: around(
          [x, y],
          away < 0 ? ["left", "above left", "below left"] : ["right", "above right", "below right"],
          [WIDTH / 2 + 10, 2],
        ),
        rank: RANK.number,
      },
      { key: "grade words", class: "grade-words" },
    ),
  ];
}
