/** Where the words of the sheet stand. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { RANK, around, bar, boxed, disc, places } from "../../static/sheet/labels.js";
import { barring, label, lettered, plate } from "../../static/sheet/lettering.js";
import { estimated } from "../../static/sheet/letters.js";
import { h } from "../../static/values/shapes.js";

/** @typedef {import("../../static/sheet/labels.js").Sized} Sized */
/** @typedef {import("../../static/sheet/labels.js").Box} Box */

const ROOM = { width: 400, height: 300 };
const SIZE = { width: 60, height: 15 };

/**
 * A text of 60 by 15 pixels at the middle of the sheet.
 * @param {string} name @param {Partial<Sized>} [more] @returns {Sized}
 */
const wanted = (name, more = {}) => ({
  name,
  spots: around([200, 150], ["right", "left", "above", "below"]),
  rank: RANK.name,
  sizes: [SIZE],
  ...more,
});

/** @param {Box} a @param {Box} b */
const overlap = (a, b) =>
  Math.min(a.x + a.width, b.x + b.width) > Math.max(a.x, b.x) &&
  Math.min(a.y + a.height, b.y + b.height) > Math.max(a.y, b.y);

/** @param {Box[]} boxes */
function assertApart(boxes) {
  boxes.forEach((a, index) => {
    for (const b of boxes.slice(index + 1)) assert.ok(!overlap(a, b), `${JSON.stringify([a, b])} overlap`);
    assert.ok(a.x >= 0 && a.y >= 0 && a.x + a.width <= ROOM.width && a.y + a.height <= ROOM.height);
  });
}

/** @param {ReturnType<typeof places>} found */
const boxes = (found) => [...found.values()].map(({ box }) => box);

test("a text stands on the side it likes best", () => {
  const found = places([wanted("a")], [], ROOM).get("a");
  assert.deepEqual(found?.box, { x: 208, y: 142.5, ...SIZE });
  assert.equal(found?.side, "right");
});

test("texts that want the same place stand apart, all of them on the sheet", () => {
  const all = Array.from({ length: 8 }, (_, index) => wanted(`${index}`));
  const found = places(all, [], ROOM);
  assert.equal(found.size, 8);
  assertApart(boxes(found));
});

test("forty numbers that matter are all shown, however crowded the place is", () => {
  const all = Array.from({ length: 40 }, (_, index) => wanted(`${index}`, { keep: true, rank: RANK.value }));
  const found = places(all, [], ROOM);
  assert.equal(found.size, 40);
  assertApart(boxes(found));
});

test("the one of the lower rank gives way, and is left out only where there is no room", () => {
  const only = { spots: around([200, 150], ["on"]), steps: 0 };
  const found = places([wanted("caption", { ...only, rank: RANK.caption }), wanted("gain", only)], [], ROOM);
  assert.deepEqual([...found.keys()], ["gain"]);
  const moved = places([wanted("caption", { rank: RANK.caption }), wanted("gain")], [], ROOM);
  assert.equal(moved.get("gain")?.side, "right");
  assert.equal(moved.get("caption")?.side, "left");
});

test("a text keeps off joints, outlines and arrows where another side is free", () => {
  for (const obstacle of [
    disc("joint", [230, 150], 7),
    bar("outline", [0, 145], [400, 145], 2),
    boxed("staff", [210, 0], [220, 300]),
  ]) {
    const found = places([wanted("a")], [obstacle], ROOM).get("a");
    assert.notEqual(found?.side, "right", obstacle.kind);
  }
});

test("what a text may lie over does not move it", () => {
  const found = places([wanted("a", { over: ["line"] })], [bar("line", [230, 0], [230, 300])], ROOM).get("a");
  assert.equal(found?.side, "right");
});

test("no text covers the middle of the instant centre, not even a callout that would lie over it", () => {
  const centre = disc("centre", [200, 150], 14);
  const size = { width: 190, height: 120 };
  const found = places(
    [wanted("facts", { sizes: [size], keep: true, spots: around([205, 150], ["on"]) })],
    [centre],
    ROOM,
  );
  const box = /** @type {Box} */ (found.get("facts")?.box);
  assert.ok(!overlap(box, { x: 199, y: 149, width: 2, height: 2 }));
});

test("a text keeps its side while it can, and changes it when it must", () => {
  const joint = [disc("joint", [230, 150], 7)];
  const first = places([wanted("a")], joint, ROOM);
  assert.equal(first.get("a")?.side, "left");
  const second = places([wanted("a")], [], ROOM, first);
  assert.equal(second.get("a")?.side, "left");
  const third = places([wanted("a")], [disc("joint", [170, 150], 7)], ROOM, second);
  assert.equal(third.get("a")?.side, "right");
});

test("near the edge a text is brought in; a point off the sheet has no text", () => {
  const found = places([wanted("in", { spots: around([395, 4], ["right"]) })], [], ROOM);
  assertApart(boxes(found));
  assert.equal(places([wanted("out", { spots: around([405, 4], ["left"]), keep: true })], [], ROOM).size, 0);
});

test("where the full words find no room the shorter ones stand", () => {
  const sizes = [{ width: 500, height: 15 }, SIZE];
  assert.equal(places([wanted("formula", { sizes })], [], ROOM).get("formula")?.said, 1);
  const staff = [boxed("staff", [0, 0], [60, 300])];
  const wide = [{ width: 320, height: 15 }, SIZE];
  const spots = around([200, 150], ["on"]);
  assert.equal(places([wanted("formula", { sizes: wide, spots, steps: 0 })], staff, ROOM).get("formula")?.said, 1);
  assert.equal(places([wanted("formula", { sizes: wide, spots, steps: 0 })], [], ROOM).get("formula")?.said, 0);
});

test("the same is placed the same way every time", () => {
  const all = Array.from({ length: 20 }, (_, index) => wanted(`${index}`));
  assert.deepEqual([...places(all, [], ROOM)], [...places(all, [], ROOM)]);
});

test("an estimated text is no narrower than the letters of usual typefaces", () => {
  assert.ok(estimated("coupling of right cylinder = −350 / 2050 = −0.17", 16).width > 400);
  assert.ok(estimated("+1.21", 12.5).width > 36);
});

/** @param {string} words */
const measure = (words) => ({ width: 8 * words.length, ascent: 12, descent: 3 });

test("the shapes carry their words where they were placed, wherever in a layer they are", () => {
  const word = label("290 kg", wanted("mass", { over: [] }), { key: "words", class: "mass-words" });
  const layers = [h("g", { key: "loads", class: "layer-loads" }, [h("g", { key: "mass" }, [word])])];
  const [layer] = lettered(layers, ROOM, measure).layers;
  const [group] = /** @type {Shape[]} */ (layer.kids);
  assert.deepEqual(group.kids, [h("text", { key: "words", class: "mass-words", x: 208, y: 154.5 }, "290 kg")]);
});

test("a text on the left ends at its point, one above has its middle over it", () => {
  const anchors = /** @type {const} */ (["left", "above"]).map((side) => {
    const word = label("1.00", wanted("a", { spots: around([200, 150], [side]) }), { key: "a", class: "a" });
    const [layer] = lettered([h("g", { class: "layer" }, [word])], ROOM, measure).layers;
    const { attrs } = /** @type {Shape[]} */ (layer.kids)[0];
    return [attrs["text-anchor"], attrs.x];
  });
  assert.deepEqual(anchors, [
    ["end", 192],
    ["middle", 200],
  ]);
});

test("a mark's lines move the words of other layers, and what has no place is not drawn", () => {
  const line = barring(h("path", { key: "line" }), bar("arrow", [230, 100], [230, 200]));
  const word = label("1.00", wanted("a", { spots: around([200, 150], ["right", "left"]) }), { key: "a", class: "a" });
  const off = label("off", wanted("off", { spots: around([-9, 0], ["right"]) }), { key: "off", class: "a" });
  const box = plate(SIZE, wanted("facts", { spots: around([60, 60], ["on"]) }), ({ box: { x, y } }) => [
    h("rect", { key: "plate", x, y }),
  ]);
  const layers = [h("g", { class: "one" }, [line]), h("g", { class: "two" }, [word, off, box])];
  const { layers: drawn, places: found } = lettered(layers, ROOM, measure);
  assert.equal(found.get("a")?.side, "left");
  assert.deepEqual(
    /** @type {Shape[]} */ (drawn[1].kids).map(({ tag }) => tag),
    ["text", "rect"],
  );
});
