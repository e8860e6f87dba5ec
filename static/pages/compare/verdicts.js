/**
 * What is said of each of the two by itself: pass or fail, how far it is out and by what, and how near its flip is.
 * @module pages/compare/verdicts
 */

import { cue, hueOfKind, swatch } from "../../values/cues.js";
import { h, px } from "../../values/shapes.js";
import { asSentence } from "../../values/messages.js";
import { amount } from "../../values/units.js";
import { sourceWords } from "../../values/vocabulary.js";
import { jointName, messageWords } from "../../values/words.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */

/** Half the length of a bar, of its own units, and its height. */
const HALF = 300;
const HIGH = 22;
/** Less of an end does not show. */
const UNSEEN = 1e-6;

/** A mount that passes where it stands may fail elsewhere on its travel. */
const STATES = { passes: "passes as it stands", fails: "fails", "not judged": "not judged" };
export const SIGNS = { passes: "✓", fails: "✗", "not judged": "–" };

/**
 * Both verdicts, their bars on one scale.
 * @param {Comparison} found @param {Mount[]} mounts @param {System} system
 * @param {number} [most] mm, what the bars reach to where others are drawn to the same scale
 * @returns {[Shape[], Shape[]]}
 */
export function verdicts(found, mounts, system, most = scaleOf([found.a, found.b])) {
  const both = [found.a, found.b];
  const [a, b] = both.map((each, index) => [
    title(each, "AB"[index], mounts[index], system),
    ...(each.end ? [bar(each, most, system)] : []),
    ...flipLines(each, mounts[index], system),
  ]);
  return [a, b];
}

/**
 * What both bars reach to, mm: the larger error or tolerance of the two.
 * @param {Pick<Verdict, "worst"|"linear"|"tolerance">[]} both
 */
export function scaleOf(both) {
  const sizes = both.flatMap((each) => [each.worst ?? 0, each.linear ?? 0, each.tolerance ?? 0]);
  return Math.max(...sizes, 1e-9) * 1.06;
}

/**
 * Pass or fail, and why.
 * @param {Verdict} verdict @param {string} name A or B, or nothing where there is one @param {Mount} mount
 * @param {System} system
 */
export function title(verdict, name, mount, system) {
  const words = verdict.why.map((each) => asSentence(messageWords(each, mount, system))).join(". ");
  return h("p", { key: "verdict", class: `verdict-line ${verdict.state.replace(" ", "-")}` }, [
    h("strong", { key: "state", class: "verdict-state", "data-verdict": name.toLowerCase() }, [
      h("span", { key: "sign", class: "sign", "aria-hidden": "true" }, SIGNS[verdict.state]),
      h("span", { key: "word" }, [name, STATES[verdict.state]].map((each) => each && ` ${each}`).join("")),
    ]),
    h("span", { key: "why" }, ` ${words}.`),
  ]);
}

/**
 * @param {Pick<Verdict, "shares"|"end"|"tolerance">} verdict @param {number} most mm @param {System} system
 * @returns {Shape}
 */
export function bar(verdict, most, system) {
  const at = (/** @type {number} */ value) => HALF + (value / most) * HALF;
  const pieces = [];
  for (const side of /** @type {const} */ (["low", "high"])) {
    let from = 0;
    for (const share of verdict.shares) {
      const size = share[side];
      if (Math.abs(size) < UNSEEN) continue;
      const [x, width] = [at(Math.min(from, from + size)), (Math.abs(size) / most) * HALF];
      const box = { x: px(x), y: 3, width: px(width), height: HIGH - 6 };
      pieces.push({
        tag: "rect",
        attrs: { key: `${side} ${share.kind}`, ...box, class: `source ${hue(share.kind)}` },
        kids: [],
      });
      pieces.push(cue(share.kind, { key: `${side} ${share.kind} cue`, ...box }));
      from += size;
    }
  }
  const tolerance = verdict.tolerance;
  const limits =
    tolerance === null
      ? []
      : [-tolerance, tolerance].map((value) => ({
          tag: "path",
          attrs: { key: `limit ${value}`, class: "limit", d: `M${px(at(value))} 0V${HIGH}` },
          kids: [],
        }));
  const words = verdict.shares
    .filter((each) => Math.max(-each.low, each.high) >= 0.005)
    .map((each) => ({ kind: each.kind, words: `${sourceWords(each.kind).short} ${rangeWords(each, system)}` }));
  return h("div", { key: "bar", class: "verdict-bar" }, [
    {
      tag: "svg",
      attrs: {
        key: "svg",
        viewBox: `0 0 ${2 * HALF} ${HIGH}`,
        preserveAspectRatio: "none",
        role: "img",
        "aria-label": `${verdict.end} end by source: ${words.map((each) => each.words).join(", ")}`,
      },
      kids: [
        ...(tolerance === null
          ? []
          : [
              {
                tag: "rect",
                attrs: {
                  key: "band",
                  class: "band",
                  x: px(at(-tolerance)),
                  width: px(at(tolerance) - at(-tolerance)),
                  y: 0,
                  height: HIGH,
                },
                kids: [],
              },
            ]),
        ...pieces,
        ...limits,
        { tag: "path", attrs: { key: "zero", class: "zero", d: `M${HALF} 0V${HIGH}` }, kids: [] },
      ],
    },
    h("p", { key: "key", class: "verdict-key" }, [
      h("span", { key: "end", class: "quiet" }, `${verdict.end} end, down and up:`),
      ...words.map(({ kind, words: said }) =>
        h("span", { key: kind, class: `verdict-part ${hue(kind)}` }, [swatch(kind), h("span", { key: "w" }, said)]),
      ),
    ]),
  ]);
}

/** The same in both mounts, whatever their cylinders. @param {string} kind */
function hue(kind) {
  return `hue-${hueOfKind(kind)}`;
}

/** @param {{low: number, high: number}} share @param {System} system */
function rangeWords({ low, high }, system) {
  if (Math.abs(low + high) < UNSEEN) return `±${amount(high, "error", system)}`;
  if (Math.abs(low) < UNSEEN) return amount(high, "error", system, { sign: true });
  if (Math.abs(high) < UNSEEN) return amount(low, "error", system, { sign: true });
  return `${amount(low, "error", system, { sign: true })} to ${amount(high, "error", system, { sign: true })}`;
}

/** @param {Verdict} verdict @param {Mount} mount @param {System} system */
function flipLines(verdict, mount, system) {
  const found = flipWords(verdict, mount, system);
  return found.length ? [h("p", { key: "flips", class: "said flips", "data-flips": "" }, found.join(" "))] : [];
}

/**
 * How near it is to a flip, and what nothing holds.
 * @param {Verdict} verdict @param {Mount} mount @param {System} system
 */
export function flipWords({ flips }, mount, system) {
  const load = mount.load ? Math.hypot(...mount.load.force) : 0;
  if (!flips || !load) return [];
  const what = (/** @type {Flip} */ { of, kind }) => (kind === "joint" ? jointName(mount, of) : `the oil of ${of}`);
  const words = [];
  if (flips.more) {
    const off = percent(flips.more.multiple - 1);
    const at = amount(flips.more.multiple * load, "force", system);
    words.push(`With ${off} more load, at ${at}, ${what(flips.more)} is pressed the other way.`);
  }
  if (flips.less) {
    const off = percent(1 - flips.less.multiple);
    const at = amount(flips.less.multiple * load, "force", system);
    words.push(`With ${off} less, at ${at}, ${what(flips.less)} goes back to the side the weight holds.`);
  }
  if (flips.unheld.length) {
    const names = flips.unheld.map((each) => jointName(mount, each)).join(" and ");
    words.push(`The weight gives ${names} no side: the play there may lie either way.`);
  }
  if (!words.length) words.push("No load this way presses anything over to its other side.");
  return words;
}

/** @param {number} share */
function percent(share) {
  return `${(share * 100).toFixed(share < 0.095 ? 1 : 0)}\u00a0%`;
}
