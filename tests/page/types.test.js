/** The page's modules say what every thing is: a type may be `any` only where the reason stands with it. */

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";

const FOLDER = new URL("../../static/", import.meta.url);
/** So many may have a reason. */
const MOST = 9;

/** @typedef {{line: number, reasoned: boolean}} Any where a type is `any`, and whether it is said why */

/**
 * The types in a module's comments that are `any`. The reason is written `any: why`, on that line or the one above.
 * @param {string} source
 * @returns {Any[]}
 */
function anysIn(source) {
  const lines = source.split("\n");
  return [...source.matchAll(/\/\*\*[^]*?\*\//g)].flatMap((comment) =>
    typesIn(comment[0]).flatMap(({ from, type }) =>
      [...type.replace(/"[^"]*"/g, (word) => " ".repeat(word.length)).matchAll(/\bany\b/g)].map((found) => {
        const line = source.slice(0, comment.index + from + found.index).split("\n").length;
        const reasoned = [line, line - 1].some((each) => /\bany: \w/.test(lines[each - 1] ?? ""));
        return { line, reasoned };
      }),
    ),
  );
}

/** What stands in the braces after a tag such as `@param`. @param {string} comment */
function typesIn(comment) {
  return [...comment.matchAll(/@\w+\s+\{/g)].map((tag) => {
    const from = tag.index + tag[0].length;
    let open = 1;
    let to = from;
    for (; open && to < comment.length; to += 1) open += { "{": 1, "}": -1 }[comment[to]] ?? 0;
    return { from, type: comment.slice(from, to - 1) };
  });
}

/** Every module of the page, by its path under static/. */
const modules = readdirSync(FOLDER, { recursive: true, encoding: "utf8" })
  .filter((path) => path.endsWith(".js"))
  .map((path) => ({ path, anys: anysIn(readFileSync(new URL(path, FOLDER), "utf8")) }));

test("no module has a type that is any without saying why", () => {
  const bare = modules.flatMap(({ path, anys }) =>
    anys.filter(({ reasoned }) => !reasoned).map(({ line }) => `static/${path}:${line}`),
  );
  assert.deepEqual(bare, [], "say what it is, with a name of .ci/types.d.ts; or write `any: why` beside it");
});

test("fewer than ten types are any at all", () => {
  const all = modules.flatMap(({ path, anys }) => anys.map(({ line }) => `static/${path}:${line}`));
  assert.ok(all.length <= MOST, `${all.length} types are any, at most ${MOST} may be: ${all.join(", ")}`);
});

test("any is found wherever it stands in a type, and nowhere else", () => {
  const found = (/** @type {string} */ source) => anysIn(source).map(({ line }) => line);
  assert.deepEqual(found("let a;\n/** @param {Record<string, any>} b @returns {(x: any) => any[]} */"), [2, 2, 2]);
  assert.deepEqual(found("/**\n * @typedef {{mount: {\n *   a: any}}} Found\n */"), [3]);
  assert.deepEqual(found('/** The last one, if any. @param {"any"|Many} a {any} */\n// {any}'), []);
});

test("a reason counts on the line of the type or the line above it", () => {
  const reasoned = (/** @type {string} */ source) => anysIn(source).map((each) => each.reasoned);
  assert.deepEqual(reasoned("/** @type {any} any: nobody has read it yet */"), [true]);
  assert.deepEqual(reasoned("// any: null at first\nlet a = /** @type {any} */ (null);"), [true]);
  assert.deepEqual(reasoned("// any: null at first\n\nlet a = /** @type {any} */ (null);"), [false]);
  assert.deepEqual(reasoned("/** @type {any} */"), [false]);
});
