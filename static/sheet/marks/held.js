/**
 * Held dimensions: a dimension line off what it measures, with a padlock and its value. A tap or Enter picks one.
 * @module sheet/marks/held
 */

import { dimensionWords, handleOf, heldDistance } from "../../document/dimensions.js";
import { handle } from "../../document/mount.js";
import { RANK, around, bar } from "../labels.js";
import { barring, label } from "../lettering.js";
import { h, line, px, through } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

/** @typedef {readonly [number, number]} Pixel */
/**
 * Pixels.
 * @typedef {{way: Dimension["way"], from: [number, number], to: [number, number], ends: [Pixel, Pixel]}} Line
 */

/** How far a dimension line stands off its joints, and dimension lines from one another, pixels. */
const OFF = 30;
const APART = 18;
const HEAD = 7;

/** @param {import("../scene.js").Scene} scene */
export function held(scene) {
  /** @type {Line[]} */
  const drawn = [];
  return (scene.mount.dimensions ?? []).flatMap((dimension, index) => {
    const joints = dimension.between.map((joint) => handle(scene.mount, handleOf(joint)));
    const [a, b] = joints.map((each) => (each ? scene.place(each.body, each.at) : null));
    if (!a || !b) return [];
    const found = clear(dimension.way, a, b, drawn);
    drawn.push(found);
    const words = amount(heldDistance(scene.mount, dimension), "fine", scene.system);
    return [mark(index, found, words, `${dimensionWords(dimension)}, ${words}`, scene.dimension === index)];
  });
}

/**
 * Where a dimension line is drawn, clear of those drawn before.
 * @param {Dimension["way"]} way @param {Pixel} a @param {Pixel} b @param {Line[]} drawn
 * @returns {Line}
 */
function clear(way, a, b, drawn) {
  for (let off = OFF; ; off += APART) {
    const found = lineAt(way, a, b, off);
    if (off > OFF + 12 * APART || !drawn.some((each) => near(each, found))) return found;
  }
}

/** @param {Dimension["way"]} way @param {Pixel} a @param {Pixel} b @param {number} off @returns {Line} */
function lineAt(way, a, b, off) {
  if (way === "level") {
    const y = Math.min(a[1], b[1]) - off;
    return { way, from: [a[0], y], to: [b[0], y], ends: [a, b] };
  }
  if (way === "upright") {
    const x = Math.max(a[0], b[0]) + off;
    return { way, from: [x, a[1]], to: [x, b[1]], ends: [a, b] };
  }
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const side = b[0] - a[0] > 0.01 || (Math.abs(b[0] - a[0]) <= 0.01 && b[1] < a[1]) ? 1 : -1;
  const [x, y] = [(side * (b[1] - a[1]) * off) / long, (-side * (b[0] - a[0]) * off) / long];
  return { way, from: [a[0] + x, a[1] + y], to: [b[0] + x, b[1] + y], ends: [a, b] };
}

/** Whether two dimension lines lie over one another. @param {Line} one @param {Line} other */
function near(one, other) {
  if (one.way !== other.way) return false;
  const [long, across] = one.way === "upright" ? [1, 0] : [0, 1];
  const apart = Math.abs((one.from[across] + one.to[across] - other.from[across] - other.to[across]) / 2);
  const [least, most] = [Math.min(one.from[long], one.to[long]), Math.max(one.from[long], one.to[long])];
  return (
    apart < APART - 2 &&
    Math.max(other.from[long], other.to[long]) > least &&
    Math.min(other.from[long], other.to[long]) < most
  );
}

/** @param {number} index @param {Line} drawn @param {string} words @param {string} name @param {boolean} picked */
function mark(index, { from, to, ends }, words, name, picked) {
  const middle = /** @type {[number, number]} */ ([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
  return h(
    "g",
    {
      key: `held ${index}`,
      class: picked ? "held picked" : "held",
      "data-dimension": index,
      tabindex: 0,
      role: "button",
      "aria-pressed": String(picked),
      "aria-label": `held ${name}`,
    },
    [
      h("title", { key: "title" }, `Held: ${name}`),
      ...ends.map((end, which) =>
        line(end, beyond(end, which ? to : from), { key: `foot ${which}`, class: "held-foot" }),
      ),
      line(from, to, { key: "target", class: "held-target" }),
      barring(line(from, to, { key: "line", class: "held-line" }), bar("line", from, to)),
      h("path", { key: "head 1", d: head(from, to), class: "held-head" }),
      h("path", { key: "head 2", d: head(to, from), class: "held-head" }),
      padlock(middle),
      label(
        words,
        {
          name: `held ${index}`,
          spots: around(middle, ["above", "right", "left", "below", "above right", "below left"], [11, 9]),
          rank: RANK.asked,
          keep: true,
        },
        { key: "words", class: "held-words" },
      ),
    ],
  );
}

/** A little past the dimension line. @param {Pixel} from @param {Pixel} to @returns {[number, number]} */
function beyond(from, to) {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  return [to[0] + ((to[0] - from[0]) * 4) / long, to[1] + ((to[1] - from[1]) * 4) / long];
}

/** An arrowhead at a line's first end. @param {Pixel} at @param {Pixel} other */
function head(at, other) {
  const long = Math.hypot(other[0] - at[0], other[1] - at[1]);
  if (long < 2 * HEAD) return through([at, at]);
  const [x, y] = [(other[0] - at[0]) / long, (other[1] - at[1]) / long];
  return through(
    [
      at,
      [at[0] + HEAD * x - 2.4 * y, at[1] + HEAD * y + 2.4 * x],
      [at[0] + HEAD * x + 2.4 * y, at[1] + HEAD * y - 2.4 * x],
    ],
    true,
  );
}

/** @param {Pixel} at */
export function padlock([x, y]) {
  return h("g", { key: "lock", class: "held-lock" }, [
    h("circle", { key: "disc", cx: px(x), cy: px(y), r: 8.5, class: "held-disc" }),
    h("path", { key: "bow", d: `M${px(x - 2.6)} ${px(y - 0.5)}v-2.4a2.6 2.6 0 0 1 5.2 0v2.4`, class: "held-bow" }),
    h("rect", { key: "body", x: px(x - 4), y: px(y - 0.8), width: 8, height: 5.4, rx: 1, class: "held-body" }),
  ]);
}
