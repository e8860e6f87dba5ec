/**
 * The instant centre of the chosen cylinder, the lines that meet in it, and the two horizontal distances whose ratio is
 * the coupling.
 * @module sheet/marks/centre
 */

import { RANK, around, bar, disc } from "../labels.js";
import { barring, label } from "../lettering.js";
import { explained, h, line, px, through } from "../../values/shapes.js";
import { number, unit } from "../../values/units.js";
import { own } from "../../values/own.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {Standing["ends"]} Ends where the ends of the blade stand, mm */

const ENDS = /** @type {const} */ (["left", "right"]);

/** @param {import("../scene.js").Scene} scene */
export function centre(scene) {
  const actuator = own(scene.numbers?.actuators, scene.chosen);
  if (!actuator || !scene.numbers?.pose) return [];
  // Of the readout, not of the picture: play that is shown many times life size changes no dimension.
  const { ends } = scene.numbers.pose;
  const hue = `hue-${scene.hues.get(scene.chosen ?? "")}`;
  if (!actuator.instant_centre) return [h("g", { key: "shift", class: hue }, shiftOnly(scene))];
  const at = scene.pixel(actuator.instant_centre);
  return [
    h("g", { key: "rays", class: hue }, rays(scene, actuator, ends, at)),
    h("g", { key: "dimensions", class: hue }, dimensions(scene, actuator, ends, actuator.instant_centre)),
  ];
}

/** The centre's mark, over the members. @param {import("../scene.js").Scene} scene */
export function centreMark(scene) {
  const actuator = own(scene.numbers?.actuators, scene.chosen);
  if (!actuator?.instant_centre) return [];
  const at = scene.pixel(actuator.instant_centre);
  const { width, height } = scene.size;
  const inside = at[0] > 8 && at[0] < width - 8 && at[1] > 8 && at[1] < height - 8;
  const mark = inside ? target(scene, at) : pointer(scene, actuator.instant_centre, at);
  return [h("g", { key: "mark", class: `hue-${scene.hues.get(scene.chosen ?? "")}` }, mark)];
}

/** @param {import("../scene.js").Scene} scene */
function shiftOnly(scene) {
  const { left, right } = scene.mount.blade;
  const [a, b] = [scene.place("blade", left), scene.place("blade", right)];
  const low = Math.min(Math.max(a[1], b[1]) + 94, scene.size.height - 30);
  const words = ["shifts the whole blade: it turns about no point", "shifts the whole blade"];
  return [formula([(a[0] + b[0]) / 2, low - 16], [`${scene.chosen} ${words[0]}`, words[1]])];
}

/** What the numbers come to, under them. @param {Point} at @param {string[]} words the fullest first */
function formula(at, words) {
  return label(
    words,
    { name: "formula", spots: around(at, ["below"], [0, 0]), rank: RANK.number, keep: true, over: ["line"] },
    { key: "formula", class: "formula" },
  );
}

const RING = 12;

/** @param {import("../scene.js").Scene} scene @param {Point} at */
function target(scene, at) {
  const [x, y] = [px(at[0]), px(at[1])];
  const beside = at[0] < scene.size.width * 0.62 ? /** @type {const} */ (["right", "left"]) : undefined;
  const sides = beside ?? /** @type {const} */ (["left", "right"]);
  const spots = [
    ...[-18, -36, 18, -54, 36].flatMap((rise) => around([at[0], at[1] + rise], [...sides], [22, 0])),
    ...around(at, ["above", "below"], [0, 22]),
  ];
  return [
    barring(h("circle", { cx: x, cy: y, r: RING, class: "centre-ring" }), disc("centre", at, RING + 2)),
    h("path", { d: `M${x - 18} ${y}H${x + 18}M${x} ${y - 18}V${y + 18}`, class: "centre-cross" }),
    label("turns about here", { name: "centre", spots, rank: RANK.number }, { key: "words", class: "centre-words" }),
  ];
}

/**
 * An arrow at the sheet's edge toward a centre that lies outside it.
 * @param {import("../scene.js").Scene} scene
 * @param {Point} centre mm
 * @param {Point} at
 */
function pointer(scene, [x], at) {
  const { width, height } = scene.size;
  const middle = /** @type {Point} */ ([width / 2, height / 2]);
  const [dx, dy] = [at[0] - middle[0], at[1] - middle[1]];
  const share = Math.min((width / 2 - 26) / Math.abs(dx || 1e-9), (height / 2 - 26) / Math.abs(dy || 1e-9));
  const tip = /** @type {Point} */ ([middle[0] + dx * share, middle[1] + dy * share]);
  const degrees = px((Math.atan2(dy, dx) * 180) / Math.PI);
  const shown = number(Math.abs(x), "length", scene.system);
  const side = x < 0 ? "left" : "right";
  const words = `turns about a point ${shown} ${unit("length", scene.system)} to the ${side}`;
  const [inward, upright] = [tip[0] > width / 2 ? "left" : "right", tip[1] < 60 ? "below" : "above"];
  const sides = /** @type {import("../labels.js").Side[]} */ ([
    `${upright} ${inward}`,
    inward,
    upright,
    "above",
    "below",
  ]);
  return [
    barring(
      h("path", {
        d: "M14 0L0 -7V7Z",
        class: "centre-arrow",
        transform: `translate(${px(tip[0])} ${px(tip[1])}) rotate(${degrees})`,
      }),
      disc("arrow", tip, 9),
    ),
    label(
      [words, `turns about ${shown} to the ${side}`],
      { name: "centre", spots: around(tip, sides, [12, 9]), rank: RANK.number, keep: true },
      { key: "words", class: "centre-words" },
    ),
  ];
}

/** @param {import("../scene.js").Scene} scene @param {Actuator} actuator @param {Ends} ends @param {Point} at */
function rays(scene, actuator, ends, at) {
  const lines = actuator.centre_lines
    .filter((each) => each.through[0] !== each.toward[0] || each.through[1] !== each.toward[1])
    .map((each) => {
      const far = [each.through, each.toward]
        .map((point) => scene.pixel(point))
        .sort((a, b) => away(b, at) - away(a, at))[0];
      const end = beyond(far, at, 26);
      return barring(line(far, end, { key: each.member, class: "ray" }), bar("line", far, end));
    });
  const toEnds = ENDS.map((end) => line(scene.pixel(ends[end]), at, { key: end, class: "ray-end" }));
  return [...toEnds, ...lines];
}

/** @param {Point} a @param {Point} b */
function away(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** @param {Point} from @param {Point} to @param {number} more @returns {Point} */
function beyond(from, to, more) {
  const size = away(from, to) || 1;
  return [to[0] + ((to[0] - from[0]) / size) * more, to[1] + ((to[1] - from[1]) / size) * more];
}

/**
 * @param {import("../scene.js").Scene} scene @param {Actuator} actuator @param {Ends} stand @param {Point} centre mm
 */
function dimensions(scene, actuator, stand, [cx, cy]) {
  const between = cx >= stand.left[0] && cx <= stand.right[0];
  const low = Math.max(scene.pixel(stand.left)[1], scene.pixel(stand.right)[1]);
  const level = Math.min(low + 66, scene.size.height - (between ? 58 : 80));
  const column = scene.pixel([cx, cy]);
  /** @type {import("../../values/shapes.js").Shape[]} */
  const shapes = [upright("column", column, level + (between ? 6 : 28), "centre-column")];
  ENDS.forEach((end, index) => {
    const at = stand[end];
    const edge = scene.pixel(at);
    const row = between ? level : level + 22 * index;
    const distance = Math.abs(at[0] - cx);
    shapes.push(
      upright(`reach ${end}`, [edge[0], edge[1] + 6], row + 5, "extension-line"),
      ...dimension(`size ${end}`, [edge[0], row], [column[0], row], number(distance, "length", scene.system)),
    );
  });
  const { lead } = actuator;
  const other = lead === "left" ? "right" : "left";
  const [top, bottom] = [stand[other][0] - cx, stand[lead][0] - cx];
  if (actuator.coupling !== null) {
    const [from, to] = [scene.pixel(stand.left)[0], scene.pixel(stand.right)[0]];
    const middle = (from + to) / 2;
    const ratio = `${signed(top, bottom, scene.system)} = ${number(actuator.coupling, "ratio", scene.system)}`;
    const words = [`coupling of ${scene.chosen} = ${ratio}`, `coupling = ${ratio}`];
    shapes.push(
      explained(
        "coupling: the other end's level distance from that point over the distance of the end that moves more",
        formula([middle, level + (between ? 12 : 32)], words),
      ),
    );
  }
  return shapes;
}

/** @param {number} top @param {number} bottom @param {System} system */
function signed(top, bottom, system) {
  const opposite = top * bottom < 0;
  return (
    `${number(opposite ? -Math.abs(top) : Math.abs(top), "length", system)} / ` +
    `${number(Math.abs(bottom), "length", system)}`
  );
}

/** @param {string} key @param {Point} from @param {number} level @param {string} marks */
function upright(key, from, level, marks) {
  const to = /** @type {Point} */ ([from[0], level]);
  return barring(line(from, to, { key, class: marks }), bar("line", from, to));
}

/**
 * A dimension line with filled arrowheads and its number above the line.
 * @param {string} key @param {Point} a @param {Point} b @param {string} words
 */
function dimension(key, a, b, words) {
  if (Math.abs(a[0] - b[0]) < 1) return [];
  const way = Math.sign(b[0] - a[0]);
  /** @type {(at: Point, way: number) => string} */
  const head = (at, turn) => `M${px(at[0])} ${px(at[1])}l${9 * turn} -3v6z`;
  const long = Math.abs(a[0] - b[0]) > 34;
  const along = [0.5, 0.3, 0.7, 0.15, 0.85].map((share) => /** @type {Point} */ ([a[0] + share * (b[0] - a[0]), a[1]]));
  const spots = [
    ...along.flatMap((at) => around(at, ["above"], [0, 1])),
    ...around(along[0], ["below"], [0, 2]),
    ...around(a, [way > 0 ? "left" : "right"], [12, 0]),
  ];
  return [
    barring(h("path", { key, d: through([a, b]), class: "dimension-line" }), bar("line", a, b)),
    h("path", {
      key: `${key} heads`,
      d: long ? head(a, way) + head(b, -way) : head(a, -way) + head(b, way),
      class: "dimension-head",
    }),
    explained(
      "level distance from the point the blade turns about to this end",
      label(
        words,
        { name: `dimension ${key}`, spots, rank: RANK.value, keep: true },
        { key: `${key} words`, class: "dimension-words" },
      ),
    ),
  ];
}
