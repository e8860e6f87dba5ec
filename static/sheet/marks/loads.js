/**
 * The load, the weight, and how the ends move when the chosen cylinder does.
 * @module sheet/marks/loads
 */

import { RANK, around, bar, boxed, disc } from "../labels.js";
import { barring, label } from "../lettering.js";
import { explained, h, px } from "../../values/shapes.js";
import { amount, number } from "../../values/units.js";
import { own } from "../../values/own.js";

/** How long the load's arrow is drawn, pixels. */
export const LOAD_LENGTH = 44;

/** @typedef {readonly [number, number]} Point */

/** @param {import("../scene.js").Scene} scene */
export function loads(scene) {
  const { load, blade } = scene.mount;
  /** @type {import("../../values/shapes.js").Shape[]} */
  const shapes = [];
  const weights = [
    { name: "blade", ...blade },
    ...(scene.mount.bodies ?? []).filter((each) => typeof each !== "string"),
  ];
  for (const { name, mass, mass_centre: centre } of weights) {
    if (!mass || !centre) continue;
    const [x, y] = scene.place(name, centre);
    const spots = around([x, y], ["right", "left", "below", "above", "below right", "below left"], [11, 9]);
    shapes.push(
      barring(
        h("g", { key: `mass ${name}`, transform: `translate(${px(x)} ${px(y)})`, class: "mass" }, [
          h("circle", { r: 7, class: "mass-ring" }),
          h("path", { d: "M0 0V-7A7 7 0 0 1 7 0ZM0 0V7A7 7 0 0 1 -7 0Z", class: "mass-dark" }),
        ]),
        disc("mass", [x, y], 8),
      ),
      label(
        amount(mass, "mass", scene.system),
        { name: `mass ${name}`, spots, rank: RANK.scale, over: ["line"] },
        { key: `mass ${name} words`, class: "mass-words" },
      ),
    );
  }
  const size = load ? Math.hypot(load.force[0], load.force[1]) : 0;
  if (load && size > 0) {
    const tip = scene.place("blade", load.at);
    const u = [load.force[0] / size, -load.force[1] / size];
    const from = /** @type {Point} */ ([tip[0] - u[0] * LOAD_LENGTH, tip[1] - u[1] * LOAD_LENGTH]);
    const shaft = h("path", { key: "load", d: arrow(from, tip, 6), class: "load" });
    shapes.push(barring(shaft, bar("arrow", from, tip, 4), disc("arrow", tip, 7)));
    if (load.reversing) {
      const back = /** @type {Point} */ ([from[0] - u[0] * 12, from[1] - u[1] * 12]);
      shapes.push(h("path", { key: "load back", d: arrow(from, back, 6), class: "load" }));
    }
    const words = amount(size, "force", scene.system);
    const inward = tip[0] > (scene.place("blade", blade.left)[0] + scene.place("blade", blade.right)[0]) / 2;
    const down = endMoves(scene).some((each) => each.value < 0 && Math.abs(each.from[0] - tip[0]) < 60);
    const sides = /** @type {import("../labels.js").Side[]} */ (
      inward === down ? ["right", "left"] : ["left", "right"]
    );
    const beyond = u[1] < 0 ? "below" : "above";
    const middle = /** @type {Point} */ ([(from[0] + tip[0]) / 2, (from[1] + tip[1]) / 2]);
    const spots = [
      ...around([from[0], from[1] - 5 * Math.sign(-u[1])], sides),
      ...around(from, [beyond], [0, 3]),
      ...around(middle, sides, [11, 0]),
      ...around(tip, sides, [11, 0]),
    ];
    shapes.push(
      label(words, { name: "load", spots, rank: RANK.value, keep: true }, { key: "load words", class: "load-words" }),
    );
  }
  return shapes;
}

/** @param {Point} from @param {Point} to @param {number} head */
function arrow(from, to, head) {
  const size = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const u = [(to[0] - from[0]) / size, (to[1] - from[1]) / size];
  const neck = [to[0] - u[0] * head * 2, to[1] - u[1] * head * 2];
  const side = [-u[1] * head, u[0] * head];
  return (
    `M${px(from[0])} ${px(from[1])}L${px(neck[0])} ${px(neck[1])}` +
    `M${px(neck[0] + side[0])} ${px(neck[1] + side[1])}L${px(to[0])} ${px(to[1])}L${px(neck[0] - side[0])} ` +
    `${px(neck[1] - side[1])}Z`
  );
}

/** The longer end arrow, pixels: short enough for its number to stay above the dimensions. */
const END_LENGTH = 40;

/**
 * Where the end arrows of the chosen cylinder run, for each end: the movement per mm, the lead end upward.
 * @param {import("../scene.js").Scene} scene
 * @returns {{end: "left"|"right", value: number, from: Point, to: Point}[]} pixels
 */
export function endMoves(scene) {
  const actuator = own(scene.numbers?.actuators, scene.chosen);
  if (!actuator || actuator.coupling === null) return [];
  const up = Math.sign(actuator[actuator.lead]) || 1;
  const most = Math.abs(actuator[actuator.lead]);
  return /** @type {("left"|"right")[]} */ (["left", "right"]).map((end) => {
    const value = actuator[end] * up;
    const [x, y] = scene.place("blade", scene.mount.blade[end]);
    const along = end === "left" ? x + 22 : x - 22;
    const tip = y - (END_LENGTH * value) / most;
    return { end, value, from: [along, y], to: [along, tip] };
  });
}

/** How far each end moves when the chosen cylinder moves by 1 mm. @param {import("../scene.js").Scene} scene */
export function endArrows(scene) {
  if (scene.traces || scene.grade) return [];
  const hue = `hue-${scene.hues.get(scene.chosen ?? "")}`;
  return endMoves(scene).map(({ end, value, from, to }) => {
    const long = Math.abs(to[1] - from[1]);
    const beyond = value > 0 ? "above" : "below";
    const sides = /** @type {import("../labels.js").Side[]} */ (end === "left" ? ["right", "left"] : ["left", "right"]);
    const spots = [
      ...around(to, [beyond], [0, 3]),
      ...around([from[0], (from[1] + to[1]) / 2], sides),
      ...around(to, sides),
      ...around(from, [value > 0 ? "below" : "above"], [0, 5]),
    ];
    return h("g", { key: end, class: `${hue} end-arrow`, "data-end-arrow": end }, [
      ...(long > 3
        ? [
            barring(
              h("path", { key: "arrow", d: arrow(from, to, Math.min(5, long / 3)), class: "end-arrow-line" }),
              boxed("arrow", [from[0] - 5, from[1]], [to[0] + 5, to[1]]),
            ),
          ]
        : [h("circle", { key: "still", cx: px(from[0]), cy: px(from[1]), r: 3, class: "end-arrow-dot" })]),
      explained(
        `how far the ${end} end rises for each unit ${scene.chosen} moves, the end it moves more upward`,
        label(
          number(value, "ratio", scene.system, { sign: true }),
          { name: `gain ${end}`, spots, rank: RANK.value, keep: true },
          { key: "words", class: "end-arrow-words" },
        ),
      ),
    ]);
  });
}
