/** The names of files, and the outline that the sheet shares with them. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { fileName } from "../../static/core/exports.js";
import { FOOTER_HEIGHT, footer, roundBelow } from "../../static/sheet/footer.js";
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

test("a scale bar has the longest round length that has room", () => {
  for (const [room, round] of [
    [1, 1],
    [1.9, 1],
    [2.5, 2],
    [5, 5],
    [99, 50],
    [730, 500],
    [0.07, 0.05],
  ])
    assert.ok(Math.abs(roundBelow(room) - round) < 1e-9);
});

test("the fields of a title block stand beside one another inside the picture, however long the title", () => {
  const bar = { length: 100, words: "0 – 500 mm" };
  for (const title of ["A", "x".repeat(120)]) {
    const fields = [
      { label: "title", words: title },
      { label: "date", words: "2026-01-31" },
    ];
    const shapes = footer(fields, bar, { width: 700, top: 400 }, { ink: "black", faint: "grey" });
    const texts = shapes.filter(({ tag, attrs }) => tag === "text" && attrs.key !== "bar words");
    const starts = texts.map(({ attrs }) => attrs);
    assert.ok(starts.every(({ x, y }) => Number(x) > 100 && Number(x) < 686 && Number(y) < 400 + FOOTER_HEIGHT));
    const words = starts.filter(({ key }) => String(key).startsWith("words"));
    const wide = 0.57 * Number(words[0]["font-size"]) * title.length;
    assert.ok(Number(words[0].x) + wide <= Number(words[1].x));
  }
});
