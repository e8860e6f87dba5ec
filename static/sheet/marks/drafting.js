/**
 * What is being drawn just now: the preview of a new member, snap guides, the selection frame, and measured distances.
 * @module sheet/marks/drafting
 */

import { handle } from "../../document/mount.js";
import { bodyShapes } from "./bodies.js";
import { RANK, WEIGHTS, around, bar } from "../labels.js";
import { barring, label } from "../lettering.js";
import { h, line, px, through } from "../../values/shapes.js";
import { amount, number } from "../../values/units.js";

/** @typedef {readonly [number, number]} Point */

/** How far the guide of a slide in hand is shown either way, pixels. */
const GUIDE = 46;

/** What the words in hand may lie over: they are never shortened for the drawing's sake. */
const UNDER_HAND = /** @type {import("../labels.js").Obstacle["kind"][]} */ (Object.keys(WEIGHTS));

/** @param {import("../scene.js").Scene} scene */
export function drafting(scene) {
  const { draft } = scene;
  /** @type {import("../../values/shapes.js").Shape[]} */
  const shapes = scene.guides.map((guide, index) =>
    line(scene.pixel(guide.from), scene.pixel(guide.to), { key: `guide ${index}`, class: "guide-line" }),
  );
  if (scene.frame) {
    const [a, b] = scene.frame;
    shapes.push(
      h("rect", {
        key: "frame",
        x: px(Math.min(a[0], b[0])),
        y: px(Math.min(a[1], b[1])),
        width: px(Math.abs(a[0] - b[0])),
        height: px(Math.abs(a[1] - b[1])),
        class: "select-frame",
      }),
    );
  }
  if (!draft?.at) return shapes;
  const at = scene.pixel(draft.at);
  for (const [body, polygons] of bodyShapes(scene)) {
    if (draft.bodies.includes(body))
      shapes.push(
        ...polygons.map((points, index) =>
          h("path", { key: `onto ${body} ${index}`, d: through(points, true), class: "draft-body" }),
        ),
      );
  }
  if (scene.tool === "slide")
    shapes.push(line([at[0], at[1] - GUIDE], [at[0], at[1] + GUIDE], { key: "guide run", class: "draft-line" }));
  if (draft.corners?.length) {
    const corners = draft.corners.map((each) => scene.pixel(each));
    shapes.push(
      h("path", { key: "outline", d: through([...corners, at]), class: "draft-line draft-outline" }),
      ...corners.map(([x, y], index) =>
        h("circle", { key: `corner ${index}`, cx: px(x), cy: px(y), r: 4, class: "draft-end" }),
      ),
    );
  } else if (draft.first) {
    const from = scene.pixel(draft.first.at);
    shapes.push(
      line(from, at, { key: "link", class: "draft-line" }),
      h("circle", { key: "first", cx: px(from[0]), cy: px(from[1]), r: 5, class: "draft-end" }),
    );
  }
  shapes.push(
    h("path", {
      key: "cross",
      d: `M${px(at[0] - 14)} ${px(at[1])}h28M${px(at[0])} ${px(at[1] - 14)}v28`,
      class: "draft-cross",
    }),
    h("circle", { key: "end", cx: px(at[0]), cy: px(at[1]), r: 5, class: "draft-end" }),
  );
  const where = `${amount(draft.at[0], "fine", scene.system)}, ${amount(draft.at[1], "fine", scene.system)}`;
  const spots = around(at, ["above right", "above left", "below right", "below left", "above", "below"], [18, 11]);
  shapes.push(
    label(
      [`${draft.words}  ${where}`, where],
      { name: "draft", spots, rank: RANK.hand, keep: true, over: UNDER_HAND },
      { key: "words", class: "draft-words" },
    ),
  );
  return shapes;
}

/**
 * Where an end of a measured distance stands; null when its joint or body is gone.
 * @param {import("../scene.js").Scene} scene
 * @param {import("../../core/store.js").MeasureEnd} end
 * @returns {[number, number]|null}
 */
function placeOf(scene, { body, name, at }) {
  const joint = name ? handle(scene.mount, name) : undefined;
  if (joint) return scene.stand(joint.body, joint.at);
  return at ? scene.stand(body, at) : null;
}

/** A line no steeper than this, or no flatter, counts as level or upright. */
const SLIGHT = 0.15;

/**
 * The sides of a line's middle on which words lie clear of it.
 * @param {number} across pixels @param {number} down pixels @returns {import("../labels.js").Side[]}
 */
function besideLine(across, down) {
  if (Math.abs(down) < SLIGHT * Math.abs(across)) return ["above", "below"];
  if (Math.abs(across) < SLIGHT * Math.abs(down)) return ["right", "left"];
  return across * down > 0 ? ["above right", "below left"] : ["below right", "above left"];
}

/** Distances between picked points, live. @param {import("../scene.js").Scene} scene */
export function measures(scene) {
  return scene.measures.flatMap(([one, two], index) => {
    const [from, to] = [one, two].map((end) => placeOf(scene, end));
    if (!from || !to) return [];
    const [p, q] = [scene.pixel(from), scene.pixel(to)];
    const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const sides = besideLine(q[0] - p[0], q[1] - p[1]);
    const spots = [0.5, 0.3, 0.7].flatMap((share) =>
      around([p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])], sides),
    );
    const words =
      `${amount(size, "fine", scene.system)}  ` +
      `(${number(Math.abs(to[0] - from[0]), "fine", scene.system)} by ` +
      `${number(Math.abs(to[1] - from[1]), "fine", scene.system)})`;
    return [
      h(
        "g",
        {
          key: `measure ${index}`,
          class: "measure",
          "data-measure": [one, two].map((end) => end.name ?? end.body).join(" "),
        },
        [
          barring(line(p, q, { key: "line", class: "measure-line" }), bar("line", p, q)),
          label(
            [words, amount(size, "fine", scene.system)],
            { name: `measure ${index}`, spots, rank: RANK.asked, keep: true },
            { key: "words", class: "measure-words" },
          ),
        ],
      ),
    ];
  });
}
