/**
 * The sums a trainer puts on the wall: one question each, its lines in words and numbers of this mount, and its answer.
 * @module core/sums
 */

import { chosenOf, isShown, otherOf, worseEnd } from "./questions.js";
import { isWorking, pageOnWall } from "./wallpages.js";
import { joints } from "../document/joints.js";
import { handle } from "../document/mount.js";
import { own } from "../values/own.js";
import { sourceWords } from "../values/vocabulary.js";
import { amount, decimals, inward, mmPerUnit, number, unit } from "../values/units.js";
import { apportion, couplingWords, inTurnWords, sourceName, verdict, messageWords, worstOf } from "../values/words.js";

/** @typedef {import("./store.js").State} State */
/** @typedef {import("./working.js").Highlight} Highlight */

/**
 * A line of a sum; `place` is lit on the drawing while it is the newest.
 * @typedef {{words: string, result: string, place?: Highlight}} SumLine
 */

/**
 * What is drawn of a sum: the parts that are told so far along the tolerance, mm, and what it shows in words.
 * @typedef {{parts: {kind: string, size: number}[], whole: number, tolerance: number|null, words: string}} Band
 */

/**
 * A sum; its band, where it has one, is that of so many lines.
 * @typedef {{name: string, title: string, lines: SumLine[], band?: (lines: number) => Band}} Sum
 */
/** @typedef {import("./questions.js").Shown} Shown */

/** So many terms are named; the rest stand together. */
const NAMED = 3;
const SMALL = 1e-9;

/**
 * What every sum has its button by, in the order of a lesson.
 * @type {[string, string, (state: Shown) => Sum|null][]}
 */
const SUMS = [
  ["ratio", "coupling", ratio],
  ["lever", "lever", lever],
  ["play", "play", play],
  ["oil", "oil", oil],
  ["error", "error", error],
  ["turns", "ends in turn", turns],
];

/**
 * The sums this mount has, by name and button.
 * @param {State} state @returns {{name: string, label: string, sum: Sum}[]}
 */
export function sumsOf(state) {
  if (!isShown(state)) return [];
  return SUMS.flatMap(([name, label, make]) => {
    const sum = make(state);
    return sum ? [{ name, label, sum }] : [];
  });
}

/** The sum on the wall, if the mount has it. @param {State} state @returns {Sum|null} */
export function sumOnWall(state) {
  const make = SUMS.find(([name]) => name === state.demo.board)?.[2];
  return make && isShown(state) ? make(state) : null;
}

/** What is lit on the drawing: the place of the newest line. @param {State} state @returns {Highlight|null} */
export function litByWall(state) {
  if (!state.demo.wall || state.demo.quiz) return null;
  if (isWorking(state)) return (!state.demo.unveiled && state.working?.holds && pageOnWall(state)?.place) || null;
  const lines = sumOnWall(state)?.lines ?? [];
  return lines[Math.min(state.demo.lines, lines.length) - 1]?.place ?? null;
}

/** How far one end takes the other along. @param {Shown} state @returns {Sum|null} */
function ratio(state) {
  const found = chosenOf(state);
  if (!found) return null;
  const { system } = state;
  const { name, actuator, coupling } = found;
  const [lead, far] = [actuator.lead, otherOf(actuator.lead)];
  const last = { words: couplingWords(coupling, system), result: "" };
  const centre = actuator.instant_centre;
  if (!centre) {
    const gain = (/** @type {EndName} */ end) => number(actuator[end], "ratio", system, { digits: 3 });
    return {
      name: "ratio",
      title: `What working ${name} does at both ends`,
      lines: [
        { words: `${name} 1 longer: the ${lead} end`, result: gain(lead) },
        { words: `and the ${far} end`, result: gain(far) },
        { words: `${gain(far)} / ${gain(lead)} =`, result: number(coupling, "ratio", system) },
        last,
      ],
    };
  }
  const { ends } = state.answered.pose;
  const size = (/** @type {EndName} */ end) => number(Math.abs(ends[end][0] - centre[0]), "length", system);
  /** @type {(end: EndName) => Highlight} */
  const place = (end) => ({
    kind: "length",
    points: [
      [centre[0], ends[end][1]],
      [ends[end][0], ends[end][1]],
    ],
    name: "",
    words: `${size(end)} ${unit("length", system)}`,
  });
  const opposite = coupling < 0 ? "−" : "";
  return {
    name: "ratio",
    title: `When ${name} works, the blade turns about one point`,
    lines: [
      {
        words: `from there to the ${lead} end, level`,
        result: `${size(lead)} ${unit("length", system)}`,
        place: place(lead),
      },
      { words: `to the ${far} end`, result: `${size(far)} ${unit("length", system)}`, place: place(far) },
      { words: `${opposite}${size(far)} / ${size(lead)} =`, result: number(coupling, "ratio", system) },
      last,
    ],
  };
}

/**
 * How much larger a movement at the cylinder is at the edge, and what that costs.
 * @param {Shown} state @returns {Sum|null}
 */
function lever(state) {
  const found = chosenOf(state);
  if (!found) return null;
  const { system, mount } = state;
  const { name, actuator } = found;
  const gain = Math.abs(actuator[actuator.lead]);
  if (gain < SMALL) return null;
  const times = number(gain, "ratio", system);
  const small = inward(10 ** -decimals("fine", system), "fine", system);
  const lines = [
    { words: `${name} worked by 1: the ${actuator.lead} end moves by`, result: times },
    {
      words: `${amount(small, "error", system)} lost at that cylinder is at the edge`,
      result: amount(small * gain, "error", system),
    },
  ];
  if (mount.load && actuator.force !== null && actuator.load_ratio !== null)
    lines.push({
      words: `and ${amount(Math.hypot(...mount.load.force), "force", system)} on the edge is at the cylinder`,
      result: amount(Math.abs(actuator.force), "force", system),
    });
  return {
    name: "lever",
    title: `The lever of ${name}`,
    lines,
  };
}

/** What play alone does at the worse end, from the middle of it all. @param {Shown} state @returns {Sum|null} */
function play(state) {
  const end = worseEnd(state);
  const found = state.answered.budget[end].sources.filter((each) => each.kind === "clearance" && each.high > SMALL);
  if (!found.length) return null;
  const { mount, system } = state;
  const total = found.reduce((sum, each) => sum + each.high, 0);
  const shown = shownParts(
    found.map((each) => 2 * each.high),
    system,
  );
  const gaps = new Map(joints(mount).map((each) => [each.name, each.clearance]));
  const lines = found.slice(0, NAMED).map((each, index) => {
    const gap = gaps.get(each.id) ?? 0;
    const at = state.answered.forces ? placeOf(state, each.id) : null;
    return {
      words:
        `${sourceName(mount, each)}: ${amount(gap, "error", system)}, ` +
        `${number((2 * each.high) / gap, "ratio", system)} times`,
      result: shown.parts[index],
      ...(at ? { place: at } : {}),
    };
  });
  const rest = found.length - lines.length;
  if (rest > 0) lines.push({ words: `${rest} smaller ${rest === 1 ? "joint" : "joints"}`, result: shown.rest(NAMED) });
  lines.push({ words: `${end} end, stop to stop`, result: amount(2 * total, "error", system) });
  lines.push({ words: `play alone, ${end} end`, result: `±${amount(total, "error", system)}` });
  return {
    name: "play",
    title: `What the play of the joints does at the ${end} end`,
    lines,
  };
}

/** Where a joint stands. @param {Shown} state @param {string} joint @returns {Highlight|null} */
function placeOf(state, joint) {
  const what = handle(state.mount, joint);
  if (!what) return null;
  const stand = own(state.answered.pose.bodies, what.body);
  if (!stand) return { kind: "point", points: [[what.at[0], what.at[1]]], name: "", words: what.label };
  const turn = (stand.angle * Math.PI) / 180;
  const [x, y] = [what.at[0] - stand.drawn[0], what.at[1] - stand.drawn[1]];
  const at = /** @type {[number, number]} */ ([
    stand.at[0] + x * Math.cos(turn) - y * Math.sin(turn),
    stand.at[1] + x * Math.sin(turn) + y * Math.cos(turn),
  ]);
  return { kind: "point", points: [at], name: "", words: what.label };
}

/** The oil that is forgotten, and then multiplied. @param {Shown} state @returns {Sum|null} */
function oil(state) {
  const found = chosenOf(state);
  const { system, mount } = state;
  if (!found || !mount.load) return null;
  const { name, actuator } = found;
  const end = actuator.lead;
  const source = state.answered.budget[end].sources.find((each) => each.kind === "oil" && each.member === name);
  if (!source) return null;
  const most = Math.abs(source.low) > Math.abs(source.high) ? source.low : source.high;
  const gain = actuator[end];
  if (Math.abs(most) < SMALL || Math.abs(gain) < SMALL) return null;
  const load = amount(Math.hypot(...mount.load.force), "force", system);
  return {
    name: "oil",
    title: "The oil, usually forgotten, then multiplied",
    lines: [
      {
        words: `the sum at the ${end} end, its oil forgotten`,
        result: amount(state.answered.budget[end].worst - Math.abs(most), "error", system),
      },
      { words: `${name}: oil squeezed by ${load}`, result: amount(Math.abs(most / gain), "error", system) },
      { words: "multiplied on the way to the edge, times", result: number(Math.abs(gain), "ratio", system) },
      { words: `at the ${end} end`, result: amount(Math.abs(most), "error", system) },
    ],
  };
}

/** All together against the tolerance. @param {Shown} state @returns {Sum} */
function error(state) {
  const { mount, system } = state;
  const { budget } = state.answered;
  const end = worseEnd(state);
  const side = budget[end].high >= -budget[end].low ? "high" : "low";
  /** @type {Map<string, number>} */
  const kinds = new Map();
  for (const each of budget[end].sources) kinds.set(each.kind, (kinds.get(each.kind) ?? 0) + Math.abs(each[side]));
  const rows = [...kinds].filter(([, size]) => size > SMALL).sort((a, b) => b[1] - a[1]);
  const shown = shownParts(
    rows.map(([, size]) => size),
    system,
  );
  const lines = rows.map(([kind], index) => ({
    words: sourceWords(kind).title,
    result: shown.parts[index],
  }));
  const drawn = rows.map(([kind, size]) => ({ kind, size }));
  const judged = state.detail?.mount === mount ? state.detail.answer : null;
  const { words } = verdict(budget, judged, system, (reason) => messageWords(reason, mount, system));
  lines.push({ words: `all at their worst, ${end} end`, result: amount(budget[end].worst, "error", system) });
  const found = worstOf(budget, judged, end);
  if (found.searched)
    lines.push({ words: "solved again: the true worst", result: amount(found.value, "error", system) });
  if (budget.tolerance !== null)
    lines.push({ words: `asked for: ±${amount(budget.tolerance, "error", system)}`, result: words.split(":")[0] });
  return {
    name: "error",
    title: `How far out the ${end} end can be`,
    lines,
    band: (told) => ({
      parts: drawn.slice(0, told),
      whole: budget[end].worst,
      tolerance: budget.tolerance,
      words: `${lines
        .slice(0, told)
        .map((each) => `${each.words} ${each.result}`.trim())
        .join(", ")}`,
    }),
  };
}

/** Correcting the ends in turn. @param {Shown} state @returns {Sum|null} */
function turns(state) {
  const found = state.answered.coupling;
  const { residual } = found;
  if (residual === null) return null;
  const { system } = state;
  const left = amount(Math.abs(residual), "percent", system);
  return {
    name: "turns",
    title: "Correct one end, then the other, and again",
    lines: [
      { words: "each further round leaves of the error before it", result: left },
      { words: inTurnWords(found), result: "" },
    ],
  };
}

/** Parts as shown, so that they add up. @param {number[]} sizes mm @param {System} system */
function shownParts(sizes, system) {
  const digits = decimals("error", system);
  const factor = mmPerUnit(system);
  const counts = apportion(
    sizes.map((size) => size / factor),
    digits,
  );
  const words = (/** @type {number} */ count) => `${(count / 10 ** digits).toFixed(digits)} ${unit("error", system)}`;
  return {
    parts: counts.map(words),
    rest: (/** @type {number} */ from) => words(counts.slice(from).reduce((sum, each) => sum + each, 0)),
  };
}
