/** A mount over its travel: what comes over the line, what is asked of it and when, and what there is to read off. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { axesOf, curveOver, shadeOf, wantedFor } from "../../static/core/travel.js";
import { firstState } from "../../static/core/store.js";
import { shadesOf, toldOver } from "../../static/values/layers.js";
import { deadLines, deadWords, gridOf, metBy, unpacked, whereWords } from "../../static/values/travel.js";
import { mountNamed } from "./mounts.js";

/** @typedef {import("../../static/values/travel.js").Over} Over */

const SHOWN = firstState().shownTravel;

/** A block as the server writes it. @param {object} head @param {number[][]} layers */
function blockOf(head, layers) {
  const line = JSON.stringify(head);
  const padded = line + " ".repeat((4 - ((line.length + 1) % 4)) % 4) + "\n";
  const numbers = new Float32Array(layers.flat());
  const whole = new Uint8Array(padded.length + numbers.byteLength);
  whole.set(new TextEncoder().encode(padded));
  whole.set(new Uint8Array(numbers.buffer), padded.length);
  return whole.buffer;
}

/** A travel of two cylinders from -100 to 100 and from -50 to 50. @param {Partial<Over>} [more] @returns {Over} */
function overTwo(more = {}) {
  return {
    cylinders: ["left", "right"],
    strokes: { left: [-100, -50, 0, 50, 100], right: [-50, 0, 50] },
    drawn: {},
    worst: {},
    dead_centres: [],
    shape: [3, 5],
    layers: {},
    ...more,
  };
}

/** The sketch with a shipped mount on it. @param {string} name */
function stateWith(name) {
  return { ...firstState(), mount: mountNamed(name) };
}

test("a block holds its layers by name, with no number where there is none", () => {
  const over = unpacked(
    blockOf({ seq: 3, layers: ["left", "worst"], shape: [1, 2] }, [
      [1, NaN],
      [3, 4.5],
    ]),
  );
  assert.deepEqual([...over.layers.left], [1, NaN]);
  assert.deepEqual(gridOf(over, "worst"), { wide: 2, high: 1, values: over.layers.worst });
  assert.equal(gridOf(over, "constructor"), null);
});

test("where a mount stands is said by the ends of its strokes", () => {
  const over = overTwo();
  assert.equal(whereWords(over, { left: 100, right: 50 }, "metric"), "both fully out");
  assert.equal(whereWords(over, { left: -100, right: 50 }, "metric"), "left fully in, right fully out");
  assert.equal(whereWords(over, {}, "metric"), "as drawn");
  assert.equal(whereWords(over, { left: 12 }, "metric"), "left +12.0\u00a0mm, right as drawn");
});

test("a dead centre's line is met where the other cylinder stands", () => {
  const over = overTwo({
    dead_centres: [
      {
        members: [],
        points: [
          [50, -50],
          [75, 0],
          [100, 50],
        ],
      },
    ],
  });
  assert.deepEqual(deadLines(over), [
    [
      [3, 0],
      [3.5, 1],
      [4, 2],
    ],
  ]);
  assert.deepEqual(metBy(over, "left", { right: 25 }), [87.5]);
  assert.deepEqual(metBy(over, "right", { left: 75 }), [0]);
  assert.deepEqual(metBy(over, "right", { left: 0 }), []);
});

test("points of dead centres far apart are two lines", () => {
  const over = overTwo({
    dead_centres: [
      {
        members: [],
        points: [
          [-100, -50],
          [100, -50],
        ],
      },
    ],
  });
  assert.equal(deadLines(over).length, 2);
  assert.deepEqual(metBy(over, "right", { left: 0 }), []);
});

test("what is said of dead centres says inside the stroke and how far beyond it", () => {
  const beyond = [
    { cylinder: "left", stroke: -134, by: 34, members: [] },
    { cylinder: "right", stroke: 90, by: 40, members: [] },
  ];
  assert.equal(deadWords("left", [], beyond, "metric"), "dead centre 34\u00a0mm beyond fully in");
  assert.equal(deadWords("other", [], beyond, "metric"), "");
  assert.match(
    deadWords("right", [20], beyond, "metric"),
    /^dead centre at \+20.*; dead centre 40.* beyond fully out$/,
  );
});

test("the plane does not hang on where its own cylinders stand, the curve on the one it goes over", () => {
  const state = { ...stateWith("3-twin-cylinders"), tab: "travel", chosen: "left cylinder" };
  const [plane, curve] = wantedFor(state, false);
  const [planeAfter, curveAfter] = wantedFor({ ...state, command: { "right cylinder": 20 } }, false);
  assert.deepEqual([plane.name, curve.name], ["plane", "curve"]);
  assert.deepEqual(planeAfter.key, plane.key);
  assert.notDeepEqual(curveAfter.key, curve.key);
  const [, curveAlong] = wantedFor({ ...state, command: { "left cylinder": 20 } }, false);
  assert.deepEqual(curveAlong.key, curve.key);
});

test("the plane is asked for no more than is drawn and said of it", () => {
  const [{ asked }] = wantedFor(stateWith("3-twin-cylinders"), false);
  assert.deepEqual(asked.layers, ["left", "right", "worst"]);
  assert.deepEqual(asked.told, ["worst", "load_ratio", "coupling:left cylinder", "coupling:right cylinder"]);
});

test("dead centres beyond the strokes are looked for when the hand is still", () => {
  const state = stateWith("3-twin-cylinders");
  assert.deepEqual(
    wantedFor(state, false).map(({ name }) => name),
    ["plane"],
  );
  assert.deepEqual(
    wantedFor(state, true).map(({ name, asked }) => [name, asked.beyond]),
    [
      ["plane", false],
      ["beyond", true],
    ],
  );
});

test("with one cylinder there is a curve, and nothing without any", () => {
  assert.deepEqual(
    wantedFor(stateWith("1-centre-pivot"), false).map(({ name, asked }) => [name, asked.cylinders]),
    [["curve", ["tilt cylinder"]]],
  );
  const { mount } = stateWith("1-centre-pivot");
  const bare = { ...mount, members: mount.members.filter(({ kind }) => kind !== "cylinder") };
  assert.deepEqual(wantedFor({ ...stateWith("1-centre-pivot"), mount: bare }, true), []);
});

test("the axes are the first two cylinders, or those chosen, never the same twice", () => {
  const mount = mountNamed("3-twin-cylinders");
  const [first] = mount.members.filter(({ kind }) => kind === "cylinder");
  const three = { ...mount, members: [...mount.members, /** @type {Member} */ ({ ...first, id: "third" })] };
  const axes = (/** @type {string|null} */ level, /** @type {string|null} */ upright) =>
    axesOf(three, { ...SHOWN, level, upright });
  assert.deepEqual(axes(null, null), ["left cylinder", "right cylinder"]);
  assert.deepEqual(axes("third", null), ["third", "left cylinder"]);
  assert.deepEqual(axes(null, "left cylinder"), ["right cylinder", "left cylinder"]);
  assert.deepEqual(axes("third", "third"), ["third", "left cylinder"]);
  assert.deepEqual(axes("gone", null), ["left cylinder", "right cylinder"]);
});

test("curves go over the cylinder that was asked for, else the one that is chosen", () => {
  const state = stateWith("3-twin-cylinders");
  assert.equal(curveOver(state), "left cylinder");
  assert.equal(curveOver({ ...state, chosen: "right cylinder" }), "right cylinder");
  const shownTravel = { ...SHOWN, over: "left cylinder" };
  assert.equal(curveOver({ ...state, chosen: "right cylinder", shownTravel }), "left cylinder");
});

test("a shade the mount has no numbers for gives way to the worst error", () => {
  const mount = mountNamed("3-twin-cylinders");
  assert.equal(shadeOf(mount, "pressure"), "pressure");
  assert.equal(shadeOf({ ...mount, load: undefined }, "pressure"), "worst");
  assert.equal(shadeOf(mount, "coupling:gone"), "worst");
  for (const { layer } of shadesOf(mount)) assert.equal(shadeOf(mount, layer), layer);
});

test("a mount without a load has no curves of what a load does", () => {
  const names = toldOver({ ...mountNamed("3-twin-cylinders"), load: undefined }).map(({ name }) => name);
  assert.deepEqual(names, ["worst", "coupling", "residual", "height", "condition"]);
});
