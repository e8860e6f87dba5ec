/** A mount carried in a link. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { keyOf, pack, parts, typedAboard, unpack, unpackMount } from "../../static/document/link.js";
import { shipped } from "./mounts.js";

test("every shipped mount comes out of a link as it went in", async () => {
  for (const [, mount] of shipped()) assert.deepEqual(await unpack(await pack(mount)), mount);
});

test("a link holds only letters that survive in an address", async () => {
  assert.match(await pack({ title: "Löffel – ±3 mm" }), /^[\w-]+$/);
});

test("a link that was cut short or is too long says so in words", async () => {
  const text = await pack({ title: "whole" });
  for (const bad of [text.slice(0, 5), "", "?", "A".repeat(200_001)]) {
    await assert.rejects(unpack(bad), /^Error: This link carries no mount that can be read/);
  }
});

test("a link that carries something else than a mount says so in words", async () => {
  for (const other of [null, 5, "mount", [], { command: {} }]) {
    await assert.rejects(unpackMount(await pack(other)), /^Error: This link carries no mount that can be read/);
  }
});

test("a link that unfolds to more than any mount, or is nested deeper, says what it is", async () => {
  const nested = (/** @type {number} */ depth) => "[".repeat(depth) + "]".repeat(depth);
  for (const text of [" ".repeat(50_000_000), nested(5_000_000), nested(31), `{"mount": ${nested(60_000)}}`]) {
    await assert.rejects(unpack(await deflated(text)), /^Error: This link carries something else than a mount/);
  }
  assert.deepEqual(await unpack(await deflated('["[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\\"[["]')), [
    `${"[".repeat(40)}"[[`,
  ]);
});

/** What `pack` makes of JSON, of any text. @param {string} text */
async function deflated(text) {
  const packed = new Blob([text]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  return Buffer.from(await new Response(packed).arrayBuffer()).toString("base64url");
}

test("what a link carries has one name, whoever opens it, and other mounts have others", () => {
  const names = shipped().map(([, mount]) => keyOf({ mount, command: {} }));
  assert.equal(new Set(names).size, names.length);
  const [[, mount]] = shipped();
  assert.equal(keyOf({ mount, command: {} }), names[0]);
  assert.notEqual(keyOf({ mount: { ...mount, tolerance: 1.25 }, command: {} }), names[0]);
  assert.match(names[0], /^[\w-]{1,64}$/);
});

test("what was typed on a handout is left out where it is no such thing", () => {
  const aboard = (/** @type {unknown} */ typed) =>
    typedAboard(new Map([["t", encodeURIComponent(JSON.stringify(typed))]]));
  assert.deepEqual(aboard({ title: "One", note: "two" }), { title: "One", note: "two" });
  for (const other of [null, [], { title: 1, note: "" }, { title: "x".repeat(30_000), note: "" }])
    assert.equal(aboard(other), null);
});

test("the parts of an address are taken by name", () => {
  assert.deepEqual(
    [...parts("#m=abc&u=inch&nonsense")],
    [
      ["m", "abc"],
      ["u", "inch"],
    ],
  );
});
