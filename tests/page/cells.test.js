/** What is pasted or filled into the table of all members. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { firstState } from "../../static/core/store.js";
import { cellsOf, columnsOf, linesOf, withCells, withFilledDown } from "../../static/document/cells.js";
import { drawnLength } from "../../static/document/mount.js";
import { mountNamed } from "./mounts.js";

/** @param {Partial<import("../../static/core/store.js").State>} [more] */
function state(more = {}) {
  return { ...firstState(), mount: mountNamed("3-twin-cylinders"), ...more };
}

const { heads } = columnsOf("cylinder");
const column = (/** @type {string} */ label) => heads.indexOf(label);

/** @param {ReturnType<typeof withCells>} made */
function taken(made) {
  assert.ok("mount" in made, JSON.stringify(made));
  return /** @type {Cylinder[]} */ (made.mount.members);
}

test("every row has a cell under every head", () => {
  for (const kind of ["pin", "rod", "cylinder", "slide"])
    for (const name of ["2-pivot-on-carriage", "6-crank-and-drop-rod"])
      for (const row of cellsOf(mountNamed(name), kind)) assert.equal(row.length, columnsOf(kind).heads.length);
});

test("lines and tabs of a spreadsheet are rows and cells, whatever ends its lines", () => {
  assert.deepEqual(linesOf("1\t2\r\n3\t4\r\n"), [
    ["1", "2"],
    ["3", "4"],
  ]);
});

test("what is pasted fills the cells right and below, in the reader's units, and leaves out what is empty", () => {
  const at = { row: 0, column: column("x") };
  const [left] = taken(withCells(state({ system: "inch" }), "cylinder", at, linesOf("-30\t45 1/2\n\t1000 mm")));
  assert.deepEqual(left.ends[0].at, [-762, 1155.7]);
  assert.deepEqual(left.ends[1].at, [-850, 1000]);
});

test("a pasted length moves the second end, after its places", () => {
  const at = { row: 0, column: column("length") };
  const [left, right] = taken(withCells(state(), "cylinder", at, [["900"], [""], ["800"]]));
  assert.equal(drawnLength(left), 900);
  assert.equal(drawnLength(right), 800);
  assert.deepEqual(left.ends[0], mountNamed("3-twin-cylinders").members[0].ends?.[0]);
});

test("a bad cell is named, and nothing is taken", () => {
  const made = withCells(state(), "cylinder", { row: 0, column: column("x") }, linesOf("-800\t1100\n-800\tabc"));
  assert.deepEqual(made, {
    bad: {
      row: 1,
      column: column("y"),
      why: "line 2, column 2: 'abc' is no number for the y of rod end of left cylinder. Nothing was taken.",
    },
  });
});

test("what has no cell to go to is named, and nothing is taken", () => {
  const made = withCells(state(), "cylinder", { row: 3, column: column("x") }, linesOf("1\n2"));
  assert.ok(
    "bad" in made && made.bad.why.startsWith("line 2, column 1 of what was pasted, '2', has no cell to go to."),
  );
});

test("a value is filled down through every row that has such a cell", () => {
  const down = taken(withFilledDown(state(), "cylinder", { row: 1, column: column("clearance") }, "0.4"));
  assert.deepEqual(
    down.slice(0, 2).flatMap((each) => each.ends.map((end) => end.clearance)),
    [mountNamed("3-twin-cylinders").members[0].ends?.[0].clearance, 0.4, 0.4, 0.4],
  );
  const bores = taken(withFilledDown(state(), "cylinder", { row: 0, column: column("bore") }, "80"));
  assert.deepEqual(
    bores.slice(0, 2).map((each) => each.bore),
    [80, 80],
  );
});
