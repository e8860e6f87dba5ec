/**
 * The load test: what a dial gauge at each end reads when the working load comes on.
 * @module panels/dial
 */

import { swatch } from "../values/cues.js";
import { asSentence } from "../values/messages.js";
import { hues } from "../document/mount.js";
import { h, px, text } from "../values/shapes.js";
import { amount, decimals, mmPerUnit, number, unit } from "../values/units.js";
import { apportion, sourceName, messageWords, playSuffix, reasonFor } from "../values/words.js";

const ENDS = /** @type {const} */ (["left", "right"]);
const SWEEP = 150;
/** What does not show in a reading to a hundredth. */
export const UNSEEN_MM = 0.005;

/** @param {import("../core/store.js").State} state */
export function dial(state) {
  const found = state.answered?.dial;
  if (!found) return [h("p", { key: "why", class: "said" }, `– ${reasonFor(state, "dial")}`)];
  const factor = mmPerUnit(state.system);
  const digits = decimals("error", state.system);
  const tones = hues(state.mount);
  const counts = Object.fromEntries(
    ENDS.map((end) => [
      end,
      apportion(
        found.sources.map((each) => each[end] / factor),
        digits,
      ),
    ]),
  );
  const shown = (/** @type {number} */ count) =>
    number((count / 10 ** digits) * factor, "error", state.system, { sign: true });
  const { load } = state.mount;
  const size = load ? ` of ${amount(Math.hypot(...load.force), "force", state.system)}` : "";
  return [
    h(
      "p",
      { key: "what", class: "said quiet" },
      `A jack pushes with the working load${size}; a dial gauge at each end reads:`,
    ),
    h("div", { key: "faces", class: "dials" }, faces(state)),
    ...(found.note
      ? [h("p", { key: "note", class: "said quiet" }, asSentence(messageWords(found.note, state.mount, state.system)))]
      : []),
    h("div", { key: "head", class: "triple quiet" }, [
      h("span", { key: "a" }, `moved, ${unit("error", state.system)}`),
      h("span", { key: "l" }, "left"),
      h("span", { key: "r" }, "right"),
    ]),
    ...found.sources.map((source, index) =>
      h(
        "div",
        {
          key: `${source.id} ${source.kind}`,
          class: `triple hue-${tones.get(source.member ?? "") ?? 7}`,
          "data-dial-source": source.id,
        },
        [
          h("span", { key: "a", class: "budget-label" }, [
            swatch(source.kind),
            h(
              "span",
              { key: "n" },
              `${sourceName(state.mount, source)}${source.kind === "clearance" ? playWords(state, source.id) : ""}`,
            ),
          ]),
          ...ENDS.map((end) =>
            h("span", { key: end }, `${shown(counts[end][index])}${moreOrLess(source.unsure[end], state.system)}`),
          ),
        ],
      ),
    ),
    h("div", { key: "total", class: "triple budget-total" }, [
      h("span", { key: "a" }, "together"),
      ...ENDS.map((end) =>
        h(
          "span",
          { key: end },
          shown(counts[end].reduce((/** @type {number} */ a, /** @type {number} */ b) => a + b, 0)) +
            moreOrLess(found.unsure[end], state.system),
        ),
      ),
    ]),
  ];
}

/** A dial for either end. @param {import("../core/store.js").State} state @returns {Shape[]} */
export function faces({ answered, system }) {
  const found = answered?.dial;
  if (!found) return [];
  const factor = mmPerUnit(system);
  const full = fullScale(Math.max(...ENDS.map((end) => Math.abs(found[end]) + found.unsure[end])) / factor);
  return ENDS.map((end) => face(end, found[end], found.unsure[end], full, factor, system));
}

/** @param {import("../core/store.js").State} state @param {string} id */
function playWords(state, id) {
  const source = state.answered?.budget?.right.sources.find((each) => each.id === id && each.kind === "clearance");
  return source ? playSuffix(source) : "";
}

/** What is not known of a reading. @param {number} unsure @param {System} system */
function moreOrLess(unsure, system) {
  return unsure < UNSEEN_MM ? "" : ` ± ${number(unsure, "error", system)}`;
}

/** A round number at least as large. @param {number} reading */
function fullScale(reading) {
  const decade = 10 ** Math.floor(Math.log10(Math.max(reading, 1e-3)));
  return ([1, 2, 5, 10].find((each) => each * decade >= reading) ?? 10) * decade;
}

/**
 * @param {"left"|"right"} end
 * @param {number} reading
 * @param {number} unsure by how much more or less
 * @param {number} full
 * @param {number} factor
 * @param {System} system
 */
function face(end, reading, unsure, full, factor, system) {
  const turn = (/** @type {number} */ value) => (Math.max(-1, Math.min(1, value)) * SWEEP - 90) * (Math.PI / 180);
  const at = (/** @type {number} */ value, /** @type {number} */ radius) =>
    /** @type {[number, number]} */ ([80 + radius * Math.cos(turn(value)), 80 + radius * Math.sin(turn(value))]);
  let ticks = "";
  const figures = [];
  for (let tick = -10; tick <= 10; tick += 1) {
    const [a, b] = [at(tick / 10, 66), at(tick / 10, tick % 5 ? 60 : 54)];
    ticks += `M${px(a[0])} ${px(a[1])}L${px(b[0])} ${px(b[1])}`;
    if (tick % 5 === 0) {
      const [x, y] = at(tick / 10, 43);
      figures.push(
        text(
          [x, y + 4],
          `${tick > 0 ? "+" : tick < 0 ? "−" : ""}${Number(Math.abs((tick / 10) * full).toPrecision(3))}`,
          { key: `w${tick}`, class: "dial-number" },
        ),
      );
    }
  }
  const [nx, ny] = at(reading / factor / full, 60);
  const [from, to] = [reading - unsure, reading + unsure].map((each) => at(each / factor / full, 50));
  const wide = (2 * unsure * SWEEP) / factor / full > 180 ? 1 : 0;
  const range =
    unsure < UNSEEN_MM
      ? []
      : [
          h("path", {
            key: "range",
            d: `M${px(from[0])} ${px(from[1])}A50 50 0 ${wide} 1 ${px(to[0])} ${px(to[1])}`,
            class: "dial-range",
          }),
        ];
  const words =
    unsure < UNSEEN_MM
      ? amount(reading, "error", system, { sign: true })
      : `${number(reading - unsure, "error", system, { sign: true })} to ` +
        amount(reading + unsure, "error", system, { sign: true });
  return h("figure", { key: end, class: "dial" }, [
    {
      tag: "svg",
      attrs: {
        key: "svg",
        viewBox: "0 0 160 160",
        role: "img",
        "aria-label": `dial at the ${end} end: ${words}`,
      },
      kids: [
        h("circle", { key: "case", cx: 80, cy: 80, r: 74, class: "dial-case" }),
        h("path", { key: "ticks", d: ticks, class: "dial-ticks" }),
        ...figures,
        ...range,
        h("path", { key: "needle", d: `M80 80L${px(nx)} ${px(ny)}`, class: "dial-needle" }),
        h("circle", { key: "hub", cx: 80, cy: 80, r: 5, class: "dial-hub" }),
      ],
    },
    h("figcaption", { key: "words" }, [
      h("span", { key: "end", class: "quiet" }, `${end} end `),
      h("output", { key: "value", "data-readout": `dial-${end}`, "data-value": reading }, words),
    ]),
  ]);
}
