/** A mount carried in a link. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { pack, parts, unpack, unpackMount } from "../../static/document/link.js";
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

test("the parts of an address are taken by name", () => {
  assert.deepEqual(
    [...parts("#m=abc&u=inch&nonsense")],
    [
      ["m", "abc"],
      ["u", "inch"],
    ],
  );
});
