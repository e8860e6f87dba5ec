/**
 * The demonstration's controls, the traces of both ends, and the count of moves.
 * @module panels/demonstrate
 */

import { offGrade } from "../core/demonstration.js";
import { h, px, through } from "../values/shapes.js";
import { amount } from "../values/units.js";
import { own } from "../values/own.js";

const [WIDTH, HEIGHT] = [360, 130];

/** @param {import("../core/store.js").State} state */
export function demonstrate(state) {
  const { demo, system } = state;
  const errors = demo.correction && offGrade(demo.correction, state.answered);
  const ready = Boolean(state.answered?.actuators && state.chosen);
  const act = (/** @type {string} */ action, /** @type {string} */ words, /** @type {boolean} */ pressed = false) =>
    h(
      "button",
      {
        key: action,
        type: "button",
        "data-demo": action,
        disabled: !ready,
        "aria-pressed": pressed ? "true" : "false",
      },
      words,
    );
  return [
    h("h3", { key: "work" }, `Work ${state.chosen ?? "a cylinder"}`),
    h("div", { key: "work row", class: "tool-row" }, [
      act("play", demo.playing === "stroke" ? "pause" : "play", demo.playing === "stroke"),
      act("step", "one step"),
      act("stop", "stop, back to rest"),
    ]),
    ...(demo.traces && demo.traces.length > 1 ? [chart(demo.traces, state)] : []),
    h("h3", { key: "slop" }, "Let the play show"),
    h("div", { key: "slop row", class: "tool-row" }, [
      act(
        "swing",
        demo.playing === "slop" ? "hold it still" : "swing between the worst positions",
        demo.playing === "slop",
      ),
    ]),
    h("label", { key: "times", class: "times" }, [
      h("span", { key: "label" }, `slop ${demo.times} times life size`),
      h("input", {
        key: "range",
        type: "range",
        min: 1,
        max: 100,
        step: 1,
        value: demo.times,
        "data-demo-times": true,
        "aria-label": "slop, times life size",
      }),
    ]),
    h("h3", { key: "correct" }, `Correct the ${state.end} end`),
    h("div", { key: "correct row", class: "tool-row" }, [
      act("turns", "one cylinder after the other"),
      act("together", "together"),
    ]),
    ...(demo.correction && !demo.quiz
      ? [
          h("p", { key: "count", class: "said", role: "status" }, [
            h(
              "strong",
              { key: "n", "data-readout": "demo-moves", "data-value": demo.correction.moves },
              `${demo.correction.moves} ${demo.correction.moves === 1 ? "move" : "moves"}. `,
            ),
            h("span", { key: "w" }, demo.correction.words),
          ]),
          ...(errors
            ? [
                h(
                  "p",
                  { key: "errors", class: "said quiet" },
                  `off grade: left ${amount(errors.left, "error", system, { sign: true })}, right ` +
                    `${amount(errors.right, "error", system, { sign: true })}`,
                ),
              ]
            : []),
        ]
      : []),
    h("h3", { key: "class" }, "For the class"),
    h("div", { key: "class row", class: "tool-row" }, [
      h(
        "button",
        { key: "quiz", type: "button", "data-demo": "quiz", "aria-pressed": demo.quiz ? "true" : "false" },
        demo.quiz ? "show the numbers" : "hide the numbers: let them guess",
      ),
      h(
        "button",
        {
          key: "projector",
          type: "button",
          "data-demo": "projector",
          "aria-pressed": demo.projector ? "true" : "false",
        },
        "projector view",
      ),
    ]),
  ];
}

/**
 * Heights of both ends over the stroke.
 * @param {import("../core/demonstration.js").Trace[]} traces
 * @param {import("../core/store.js").State} state
 */
function chart(traces, state) {
  const first = traces[0];
  const rises = traces.flatMap((each) => [each.left[1] - first.left[1], each.right[1] - first.right[1]]);
  const most = Math.max(...rises.map(Math.abs), 1e-6) * 1.1;
  const stroke = Math.max(...traces.map((each) => Math.abs(each.stroke - first.stroke)), 1e-6) * 1.05;
  const x = (/** @type {number} */ value) => (WIDTH / 2) * (1 + value / stroke);
  const y = (/** @type {number} */ value) => (HEIGHT / 2) * (1 - value / most);
  const lead = own(state.answered?.actuators, state.chosen)?.lead;
  const curve = (/** @type {"left"|"right"} */ end) =>
    h("path", {
      key: end,
      d: through(traces.map((each) => [x(each.stroke - first.stroke), y(each[end][1] - first[end][1])])),
      class: end === lead ? "trace-lead" : "trace-far",
    });
  const far = lead === "left" ? "right" : "left";
  const last = traces[traces.length - 1];
  const travel = (/** @type {"left"|"right"} */ end) =>
    amount(
      Math.max(...traces.map((each) => each[end][1])) - Math.min(...traces.map((each) => each[end][1])),
      "error",
      state.system,
      { digits: state.system === "inch" ? 2 : 1 },
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
          cy: px(y(last[/** @type {"left"|"right"} */ (far)][1] - first[/** @type {"left"|"right"} */ (far)][1])),
          r: 4,
          class: "trace-dot",
        }),
      ],
    },
    h(
      "figcaption",
      { key: "words", class: "quiet" },
      state.demo.quiz
        ? `thick: ${lead} end; dashed: ${far} end`
        : `thick: ${lead} end, which travels ${travel(lead)}; dashed: ${far} end, which should stay and ` +
            `travels ${travel(far)}`,
    ),
  ]);
}
