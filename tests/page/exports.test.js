/** The names of files, and the outline that the sheet shares with them. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { fileName } from "../../static/core/exports.js";
import { outline } from "../../static/sheet/marks/bodies.js";
import { mountNamed } from "./mounts.js";

const SHARED = JSON.parse(readFileSync(new URL("../blade_outline.json", import.meta.url), "utf8"));

test("the sheet draws the blade with the outline that drawings for other programs have", () => {
  const found = outline(SHARED.blade);
  assert.equal(found.length, SHARED.outline.length);
  found.forEach((point, corner) =>
    point.forEach((value, axis) => assert.ok(Math.abs(value - SHARED.outline[corner][axis]) < 1e-9)),
  );
});

test("a drawing's file says which pose it shows, a table's does not", () => {
  const titled = { ...mountNamed("3-twin-cylinders"), title: "Twin v1.2" };
  assert.equal(fileName(titled, "dxf", "drawn"), "twin-v1-2-drawn.dxf");
  assert.equal(fileName(titled, "pdf", "worked"), "twin-v1-2-worked.pdf");
  assert.equal(fileName(titled, "csv"), "twin-v1-2.csv");
});
