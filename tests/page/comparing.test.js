/** What is said of two mounts over their travel and over a run, and what is chosen beside them. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { choicesAboard, choicesPart, usualChoices } from "../../static/pages/compare/choices.js";
import { bestWords } from "../../static/pages/compare/ownbest.js";
import { overShapes } from "../../static/pages/compare/over.js";
import { chosen, settingsFor } from "../../static/pages/compare/runchoice.js";
import { sentenceOf } from "../../static/pages/compare/runs.js";
import { differWords } from "../../static/pages/handout/both.js";
import { seen } from "../../static/pages/compare/sentences.js";
import { mountNamed } from "./mounts.js";

const MOUNTS = [mountNamed("2-pivot-on-carriage"), mountNamed("3-twin-cylinders")];

/** @param {import("../../static/values/shapes.js").Shape} shape @returns {string} */
function plain({ kids }) {
  return typeof kids === "string" ? kids : kids.map(plain).join("");
}

const VERDICT = /** @type {OverVerdict} */ ({
  state: "fails",
  why: [
    {
      message: {
        code: "outside",
        text: "the {end} end is up to {worst} out on its travel, with ±{tolerance} allowed",
        members: [],
        values: { end: ["right", "word"], worst: [4.25, "error"], tolerance: [3, "error"] },
      },
      command: { "left cylinder": -130, "right cylinder": 130 },
    },
  ],
  cylinders: ["left cylinder", "right cylinder"],
  strokes: { "left cylinder": [-130, 0, 130], "right cylinder": [-130, 0, 130] },
  end: "right",
  worst: 4.25,
  linear: 4.2,
  drawn: 2.5,
  command: {},
  tolerance: 3,
  shares: [{ kind: "oil", low: 0, high: 4.2 }],
  inside: 0.9998,
  reached: 0.5,
  ends: { left: { low: -10, high: 20 }, right: { low: -30, high: 40 } },
  short: [
    {
      code: "out-of-reach",
      text: "it cannot go to {share} of its strokes",
      members: [],
      values: { share: [0.5, "percent"] },
    },
  ],
});

test("over the travel a mount is judged first, with where it is worst and what it cannot reach", () => {
  const found = /** @type {ComparisonOver} */ ({
    a: VERDICT,
    b: VERDICT,
    unlike: [],
    causes: [],
    a_better: [],
    b_better: [],
  });
  const words = overShapes({ found, mounts: MOUNTS, system: "metric" }).map(plain).join("\n").replaceAll("\u00a0", " ");
  assert.ok(words.includes("✗ A fails The right end is up to 4.25 mm out on its travel, with ±3.00 mm allowed"), words);
  assert.ok(words.includes("(left cylinder fully in, right cylinder fully out)."));
  assert.ok(words.includes("Inside on 99.9 % of the travel."));
  assert.ok(words.includes("It cannot go to 50.00 % of its strokes."));
  assert.ok(words.includes("Over the travel A is better in nothing that can be compared here."));
});

const READY = /** @type {ReadyRun[]} */ (
  /** @type {unknown} */ ([
    { name: "disturb", title: "", run: { seconds: 12, ground: { kind: "flat" }, start: { left: 0, right: 20 } } },
    { name: "rough", title: "", run: { seconds: 60, ground: { kind: "rough" }, start: { left: 0, right: 0 } } },
  ])
);

test("to correct an end upward the run starts with it too low, and rough ground is tried with many seeds", () => {
  assert.deepEqual(settingsFor(READY, "correction", { end: "left", rise: 15 }).start, { left: -15, right: 0 });
  assert.equal(settingsFor(READY, "correction", { end: "left", rise: 9000 }).start.left, -500);
  assert.equal(settingsFor(READY, "rough", { end: "left", rise: 15 }).seeds, 8);
});

test("a run that is none of those to choose from is one's own", () => {
  const wanted = { end: /** @type {const} */ ("left"), rise: 15 };
  assert.equal(chosen(READY, null, wanted), "correction");
  assert.equal(chosen(READY, settingsFor(READY, "rough", wanted), wanted), "rough");
  assert.equal(chosen(READY, { ...READY[0].run, seconds: 7 }, wanted), "own");
});

/** @param {Partial<Compared>} time */
function ran(time) {
  const rows = [
    { name: "run-time", a: 1.852, b: 0.487, better: "b", times: 3.803, why: null, ...time },
    { name: "run-other", a: 12.67, b: 1.03, why: null },
    { name: "run-rms", a: 0.5, b: 0.2, why: null },
    { name: "run-inside", a: 0.9, b: 0.95, why: null },
  ];
  const side = { state: "comes to grade", hunting: null };
  const run = { start: { left: 0, right: -20 } };
  return /** @type {RunsCompared} */ (/** @type {unknown} */ ({ a: side, b: side, rows, run, off: "right", ran: [] }));
}

test("a run is told in one sentence, and what the other end did in a second", () => {
  const words = (/** @type {RunsCompared} */ found) =>
    sentenceOf({ found, mounts: MOUNTS, system: "metric" }).replaceAll("\u00a0", " ");
  assert.equal(
    words(ran({})),
    "B comes to grade in 0.49 s, A in 1.9 s: 3.8 times as long. " +
      "Meanwhile the left end moves 12.67 mm in A and 1.03 mm in B.",
  );
  assert.match(words(ran({ a: null })), /^B comes to grade in 0\.49 s; A never stays there\./);
  assert.match(words(ran({ a: null, b: null })), /^Neither comes to grade to stay\./);
  const why = { code: "unlike", text: "valve differs", members: [], values: {} };
  assert.match(
    words(ran({ why, better: null })),
    /^A comes to grade in 1\.9 s, B in 0\.49 s; not ranked: valve differs\./,
  );
});

test("what is chosen beside two mounts comes back from a link, and what is no choice is left out", () => {
  const choices = /** @type {import("../../static/pages/compare/choices.js").Choices} */ ({
    worn: 1.5,
    carry: { mass: "stays", sensors: "stay", members: "width" },
  });
  assert.deepEqual(choicesAboard(choicesPart(choices)), choices);
  assert.equal(choicesPart(usualChoices()), "");
  for (const other of [undefined, "", "1", "far,metre,ends,stay", "-1,metre,ends,stay", "1,metre,ends,constructor"])
    assert.deepEqual(choicesAboard(other), usualChoices());
});

test("a handout says in what two mounts differ in full while there is room, and what is alike by name", () => {
  const [a] = MOUNTS;
  assert.match(differWords([a, a], "metric"), /^Alike in both: blade, mass/);
  assert.match(
    differWords([a, { ...a, tolerance: 4 }], "metric"),
    /^They differ in: tolerance: A ±3\u00a0mm; B ±4\u00a0mm\.$/,
  );
  const far = differWords([a, mountNamed("9-pivot-in-inches")], "metric");
  assert.match(far, /^They differ in: blade, mass, .*; see the inputs of either\./);
});

test("each at its own best is told with its setting, and one that has none with the reason", () => {
  const why = { code: "never-rests", text: "nothing that was tried brings it to rest", members: [], values: {} };
  const found = ran({});
  const rows = ran({ a: 0.34, b: 0.34, better: "same", times: 1 }).rows;
  const best = [4.85, 3.97].map((setting) => ({ setting, time_to_grade: 0.4, tried: 16 }));
  const at = {
    valve: "proportional",
    way: "decoupled",
    best,
    a: found.a,
    b: found.b,
    rows,
    a_better: [],
    b_better: [],
  };
  const words = (/** @type {object} */ more) =>
    bestWords(
      { found, mounts: MOUNTS, system: "metric" },
      /** @type {AtOwnBest} */ (/** @type {unknown} */ ({ ...at, ...more })),
    ).replaceAll("\u00a0", " ");
  assert.equal(
    words({}),
    "Both cylinders worked together, A at gain 4.85 1/s, B at gain 3.97 1/s: Both come to grade in about 0.34 s. " +
      "Meanwhile the left end moves 12.67 mm in A and 1.03 mm in B.",
  );
  const none = [{ setting: null, time_to_grade: null, tried: 16 }, best[1]];
  assert.equal(
    words({ best: none, a: { ...found.a, state: "not made", why } }),
    "Both cylinders worked together, B at gain 3.97 1/s: A has none: nothing that was tried brings it to rest.",
  );
});

test("what nobody sees in the numbers shown is no advantage", () => {
  const row = (/** @type {number} */ b) =>
    /** @type {Compared} */ (
      /** @type {unknown} */ ({ name: "coupling", quantity: "ratio", signed: true, a: -0.2, b })
    );
  assert.equal(seen(row(-0.201), "metric"), false);
  assert.equal(seen(row(-0.25), "metric"), true);
});
