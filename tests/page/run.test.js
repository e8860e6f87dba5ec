/** The grading run on its page: rows put together, the long section, settings and the words for what comes of it. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { sectionShapes, stepOf, timeAt } from "../../static/pages/run/section.js";
import { Series, largest, thinned } from "../../static/pages/run/series.js";
import { Mounts, pairsOf, worked, worksAboard } from "../../static/pages/run/mounts.js";
import { variantTable } from "../../static/pages/run/variants.js";
import { valueAt, withValue } from "../../static/pages/run/settings.js";
import { enlarged } from "../../static/pages/run/stage.js";
import { four, fourOf, hunts, sure, together, verdict } from "../../static/pages/run/words.js";

const ends = (/** @type {number[]} */ left, /** @type {number[]} */ right) => ({ left, right });

/** @param {number} begins @param {number[]} right @returns {RunPiece} */
function piece(begins, right) {
  const still = right.map(() => 0);
  return {
    share: 1,
    begins,
    step: 0.1,
    left: still,
    right,
    ground: ends(still, still),
    lengths: {},
    commands: { lift: right.map((each) => each / 10) },
    stood_at: [begins],
    stood: { blade: [[begins, 0, 0]] },
    frame: ends([0], [0]),
  };
}

/** @param {number[]} right */
function seriesOf(right) {
  const series = new Series();
  series.take(piece(0, right));
  return series;
}

test("pieces make up one run, and one that begins anew replaces it", () => {
  const series = seriesOf([4, 3]);
  series.take(piece(2, [2, 1]));
  assert.deepEqual(series.errors.right, [4, 3, 2, 1]);
  assert.ok(Math.abs(series.seconds - 0.3) < 1e-9);
  series.take(piece(0, [9]));
  assert.deepEqual(series.errors.right, [9]);
});

test("between two points the ends stand between, and bodies between where they are told", () => {
  const series = seriesOf([4, 3]);
  series.take(piece(2, [2, 1]));
  assert.equal(series.errorsAt(0.15).right, 2.5);
  assert.deepEqual(series.standing(0.1).bodies.blade.at, [1, 0]);
  assert.equal(series.commandAt("lift", 0.25), 0.2);
});

test("a row with more points than pixels keeps every crest and trough", () => {
  const row = Array.from({ length: 6001 }, (_, at) => (at === 3210 ? 50 : at === 12 ? -40 : 0));
  const found = thinned(row, 800);
  assert.ok(found.length < 2000);
  assert.ok(found.some(([at, value]) => at === 3210 && value === 50));
  assert.ok(found.some(([at, value]) => at === 12 && value === -40));
  assert.equal(largest(row), 50);
});

test("heights beside the section are round numbers", () => {
  assert.deepEqual([20, 9, 3.1, 0.8, 1].map(stepOf), [20, 10, 5, 1, 1]);
});

test("the section says where it has been touched", () => {
  const shapes = sectionShapes({
    series: seriesOf([20, 10, 0]),
    size: { width: 668, height: 150 },
    seconds: 12,
    speed: 0.8,
    reach: 24,
    tolerance: 3,
    now: 0.1,
    letters: 11.5,
    system: "metric",
  });
  const words = shapes.filter(({ tag }) => tag === "text").map(({ kids }) => kids);
  assert.ok(words.includes("+10") && words.includes("−20") && words.includes("mm"));
  assert.equal(timeAt(352, 668, 12, 12), 6);
  assert.equal(timeAt(0, 668, 12, 12), 0);
});

test("bodies ride on the frame, every movement as many times as large", () => {
  const stood = {
    bodies: { blade: { at: /** @type {[number, number]} */ ([0, 3]), angle: 1 } },
    frame: { left: 2, right: 2 },
  };
  const { blade, frame } = enlarged({ blade: [0, 0] }, stood, 1800, 10);
  assert.deepEqual(blade.at, [0, 50]);
  assert.equal(blade.angle, 10);
  assert.deepEqual(frame.at, [0, 20]);
});

test("a setting is found and changed at its path, and another ground begins with its own", () => {
  const settings = /** @type {RunSettings} */ (
    /** @type {unknown} */ ({ speed: 0.8, start: { right: 20 }, ground: { kind: "flat" } })
  );
  assert.equal(valueAt(settings, "start.right"), 20);
  assert.equal(valueAt(withValue(settings, "start.right", 5), "start.right"), 5);
  assert.equal(valueAt(settings, "start.right"), 20);
  assert.equal(valueAt(withValue(settings, "ground.kind", "rough"), "ground.class"), "C");
});

/** @param {Partial<EndSummary>} more @returns {EndSummary} */
function end(more) {
  const plain = { rms: 1, p95: 2, worst: 3, inside: 0.9, time_to_grade: 0.5, overshoot: null, disturbed: 1.5 };
  return { ...plain, hunting: null, ...more };
}

test("four numbers: the slower time, both rms, the smaller share, what the end on grade did", () => {
  const summary = {
    left: end({ inside: 0.8 }),
    right: end({ time_to_grade: 2, rms: 7, disturbed: 20 }),
    cylinders: {},
  };
  assert.deepEqual(four(summary, { left: 0, right: 20 }), {
    rms: 5,
    worst: 3,
    inside: 0.8,
    time: 2,
    other: 1.5,
    disturbed: "left",
  });
  assert.equal(four({ ...summary, left: end({ time_to_grade: null }) }, { left: 0, right: 0 }).time, null);
});

test("hunting is said as a practitioner says it", () => {
  const summary = { left: end({}), right: end({ hunting: { amplitude: 6, period: 0.75 } }), cylinders: {} };
  assert.equal(hunts(summary, "metric").replaceAll("\u00a0", " "), "hunts, 6.00 mm every 0.75 s");
});

test("one sentence says which mount is quicker, or that one never stays at grade", () => {
  const quick = { rms: 1, worst: 2, inside: 1, time: 0.5, other: 1, disturbed: null };
  const plain = (/** @type {string} */ words) => words.replaceAll("\u00a0", " ");
  assert.equal(
    plain(verdict({ ...quick, time: 2 }, quick, true, "metric")),
    "B comes to grade in 0.50 s, A in 2.0 s: 4.0 times as long.",
  );
  assert.equal(
    plain(verdict({ ...quick, time: null }, quick, true, "metric")),
    "B comes to grade in 0.50 s; A never stays there.",
  );
  assert.equal(plain(verdict({ ...quick, rms: 3 }, quick, false, "metric")), "B leaves 1.00 mm rms, A 3.00 mm.");
});

test("what working both cylinders together would bring is said where it is known of both", () => {
  /** @type {RunCost} */
  const cost = {
    what: "coupled channels",
    value: null,
    measure: null,
    rms: 1,
    rms_before: 2,
    time_to_grade: 0.4,
    time_before: 2,
  };
  assert.match(together([cost], [cost]), /brings A to grade in 0.40.s and B in 0.40.s/);
  assert.equal(together([cost], null), "");
});

/** @param {number} mean @param {number} largest @returns {RunMean} */
const mean = (mean, largest) => ({ mean, low: mean - 0.2, high: mean + 0.2, largest, count: 32 });

/** @param {number} worst @param {number} [there] in how many seeds it comes to grade @returns {RunOverSeeds} */
function over(worst, there = 32) {
  const one = {
    ...{ rms: mean(2, 3), p95: mean(4, 5), worst: mean(6, worst), inside: mean(0.9, 1), overshoot: null },
    ...{ time_to_grade: { ...mean(1.5, 2), count: there }, disturbed: mean(3, 4) },
  };
  return { seeds: 32, left: one, right: { ...one, worst: mean(6, 7) }, cylinders: {} };
}

test("over many seeds numbers are means, the worst is that of all, and one seed that never settles is never", () => {
  const summary = { left: end({}), right: end({}), cylinders: {} };
  const found = fourOf({ summary, seeds: over(21) }, { left: 0, right: 20 });
  assert.deepEqual(found, { rms: 2, worst: 21, inside: 0.9, time: 1.5, other: 3, disturbed: "left" });
  assert.equal(fourOf({ summary, seeds: over(21, 31) }, { left: 0, right: 0 })?.time, null);
  assert.equal(fourOf({ summary, seeds: null }, { left: 0, right: 0 })?.rms, 1);
  assert.equal(
    sure(over(21), "metric").replaceAll("\u00a0", " "),
    "mean of 32 seeds, 1.80 to 2.20 mm; worst of all 21.00 mm",
  );
});

test("the table of variants has what each comes to, the best of every column in bold, and why one was refused", () => {
  const variant = (/** @type {string} */ id) => ({ id, title: id, parent: null, revision: 1 });
  const made = (/** @type {number} */ rms, /** @type {number|null} */ time) => ({
    summary: { left: end({ rms, time_to_grade: time }), right: end({ rms, time_to_grade: time }), cylinders: {} },
    seeds: null,
    notes: [],
  });
  const row = (/** @type {string} */ id, /** @type {RunSummed|null} */ of, refused = "") => ({
    ...{ variant: variant(id), title: id, made: of, refused },
  });
  const rows = [
    row("low", made(2, 0.5)),
    row("high", made(1, null)),
    row("loose", null, "hangs loose"),
    row("next", null),
  ];
  const words = JSON.stringify(variantTable(rows, ["low"], { left: 0, right: 20 }, "metric")).replaceAll("\u00a0", " ");
  assert.match(words, /"tag":"b"[^}]*},"kids":"0.50 s"/);
  assert.match(words, /"tag":"b"[^}]*},"kids":"1.00 mm"/);
  assert.match(words, /"never"/);
  assert.match(words, /"hangs loose"/);
  assert.match(JSON.stringify(variantTable([row("alone", null)], [], { left: 0, right: 0 }, "metric")), /No variants/);
});

test("of more than two cylinders any pair can work, of two there is no choice", () => {
  const cylinder = (/** @type {string} */ id) => ({ kind: "cylinder", id });
  const mount = (/** @type {string[]} */ ...ids) =>
    /** @type {Mount} */ (/** @type {unknown} */ ({ members: ids.map(cylinder) }));
  assert.deepEqual(pairsOf(mount("lift", "tilt", "shift")), [
    ["lift", "tilt"],
    ["lift", "shift"],
    ["tilt", "shift"],
  ]);
  assert.deepEqual(pairsOf(mount("lift", "tilt")), []);
  const settings = /** @type {RunSettings} */ (/** @type {unknown} */ ({ speed: 1, control: { gain: 2 } }));
  assert.deepEqual(worked(settings, ["lift", "shift"]).control, { gain: 2, cylinders: ["lift", "shift"] });
  assert.equal(worked(settings, null), settings);
});

test("which cylinders work comes along in a link", async () => {
  const mounts = new Mounts();
  mounts.works.b = ["lift", "shift"];
  mounts.keptAboard("one,two");
  const parts = new Map(
    (await mounts.aboard()).split("&").map((each) => /** @type {[string, string]} */ (each.split("="))),
  );
  assert.equal(parts.get("k"), "one,two");
  assert.deepEqual(await worksAboard(parts.get("w")), { a: null, b: ["lift", "shift"] });
});
