/** The house: nothing of a lower room takes anything from a higher one. */

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { test } from "node:test";
import { fileURLToPath } from "node:url";

const STATIC = fileURLToPath(new URL("../../static/", import.meta.url));
const ROOMS = ["values", "document", "core", "sheet", "panels", "pages"];
const IMPORT = /^(?:import|export) .*? from "(\.[^"]+)";/gms;

const MODULES = readdirSync(STATIC, { recursive: true })
  .map(String)
  .filter((path) => path.endsWith(".js"));

/** @param {string} path */
const rankOf = (path) => ROOMS.indexOf(path.split("/")[0]);

test("every module stands in a room", () => {
  assert.deepEqual(
    MODULES.filter((path) => rankOf(path) < 0),
    [],
  );
});

test("nothing of a lower room takes anything from a higher one", () => {
  const upward = MODULES.flatMap((path) =>
    [...readFileSync(join(STATIC, path), "utf8").matchAll(IMPORT)]
      .map(([, from]) => relative(STATIC, join(STATIC, dirname(path), from)))
      .filter((from) => rankOf(from) > rankOf(path))
      .map((from) => `${path} takes from ${from}`),
  );
  assert.deepEqual(upward, []);
});
