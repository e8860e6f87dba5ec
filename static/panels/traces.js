/**
 * The traces of both ends over the stroke.
 * @module panels/traces
 */

import { h, px, through } from "../values/shapes.js";
import { own } from "../values/own.js";
import { amount, decimals } from "../values/units.js";

const [WIDTH, HEIGHT] = [360, 130];

/**
 * Heights of both ends over the stroke.
 * @param {import("../core/demonstration.js").Trace[]} found
 * @param {import("../core/store.js").State} state
 */
export function traces(found, state) {
  const first = found[0];
  const rises = found.flatMap((each) => [each.left[1] - first.left[1], each.right[1] - first.right[1]]);
  const most = Math.max(...rises.map(Math.abs), 1e-6) * 1.1;
  const stroke = Math.max(...found.map((each) => Math.abs(each.stroke - first.stroke)), 1e-6) * 1.05;
  const x = (/** @type {number} */ value) => (WIDTH / 2) * (1 + value / stroke);
  const y = (/** @type {number} */ value) => (HEIGHT / 2) * (1 - value / most);
  const lead = own(state.answered?.actuators, state.chosen)?.lead ?? state.end;
  const curve = (/** @type {"left"|"right"} */ end) =>
    h("path", {
      key: end,
      d: through(found.map((each) => [x(each.stroke - first.stroke), y(each[end][1] - first[end][1])])),
      class: end === lead ? "trace-lead" : "trace-far",
    });
  const far = lead === "left" ? "right" : "left";
  const last = found[found.length - 1];
  const travel = (/** @type {"left"|"right"} */ end) =>
    amount(
      Math.max(...found.map((each) => each[end][1])) - Math.min(...found.map((each) => each[end][1])),
      "error",
      state.system,
      { digits: decimals("fine", state.system) },
    );
  return h("figure", { key: "chart", class: "spread" }, [
    {
      tag: "svg",
      attrs: {
        key: "svg",
        viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
        role: "img",
        "aria-label": "height of both ends over the stroke",
      },
      kids: [
        h("path", { key: "axes", d: `M0 ${HEIGHT / 2}H${WIDTH}M${WIDTH / 2} 0V${HEIGHT}`, class: "bar-axis" }),
        curve("left"),
        curve("right"),
        h("circle", {
          key: "now",
          cx: px(x(last.stroke - first.stroke)),
          cy: px(y(last[far][1] - first[far][1])),
          r: 4,
          class: "trace-dot",
        }),
      ],
    },
    h(
      "figcaption",
      { key: "words", class: "quiet" },
      `thick: ${lead} end, which travels ${travel(lead)}; dashed: ${far} end, which should stay and ` +
        `travels ${travel(far)}`,
    ),
  ]);
}
