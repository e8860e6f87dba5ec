/** Painting makes the page match a description and touches nothing that matches already. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { isUntouched, taken, whileAsked } from "../../static/core/entry.js";
import { mark, paint, write } from "../../static/core/paint.js";
import { h } from "../../static/values/shapes.js";
import { room, touched } from "./dom.js";

/** @typedef {import("./dom.js").Room} Room */

/** How often the page is written to while something is done. @param {() => void} doing */
function writes(doing) {
  touched.count = 0;
  doing();
  return touched.count;
}

/** A panel with a heading, a field and a choice. @param {string} words @param {string} value @param {string} chosen */
const panel = (words, value, chosen) => [
  h("h2", { key: "head", class: "head" }, words),
  h("label", { key: "field" }, [
    h("span", { key: "label" }, "title"),
    h("input", { key: "input", type: "text", value }),
  ]),
  h(
    "select",
    { key: "choice", value: chosen },
    ["mm", "in"].map((each) => h("option", { key: each, value: each }, each)),
  ),
];

/** @param {Room} place @returns {Room} */
const input = (place) => place.children[1].children[1];

test("what is painted a second time is not written to", () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  assert.equal(
    writes(() => paint(place, panel("Title", "Grader", "in"))),
    0,
  );
});

test("one word that changes is written once, in the element that was there", () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  const [head] = place.children;
  assert.equal(
    writes(() => paint(place, panel("Other title", "Grader", "in"))),
    1,
  );
  assert.equal(place.children[0], head);
  assert.equal(head.textContent, "Other title");
});

test("elements are known by their key, so that one taken out leaves the others alone", () => {
  const place = room();
  const list = (/** @type {string[]} */ names) => names.map((name) => h("li", { key: name }, name));
  paint(place, list(["a", "b", "c"]));
  const [, , last] = place.children;
  assert.equal(
    writes(() => paint(place, list(["b", "c"]))),
    1,
  );
  assert.equal(place.children[1], last);
});

test("elements come into the order they are described in", () => {
  const place = room();
  const list = (/** @type {string[]} */ names) => names.map((name) => h("li", { key: name }, name));
  paint(place, list(["a", "b", "c"]));
  paint(place, list(["c", "new", "a"]));
  assert.deepEqual(
    place.children.map((/** @type {Room} */ each) => each.textContent),
    ["c", "new", "a"],
  );
});

test("words give way to elements and elements to words", () => {
  const place = room();
  paint(place, [h("p", { key: "p" }, "only words")]);
  paint(place, [h("p", { key: "p" }, [h("b", { key: "b" }, "bold")])]);
  assert.equal(place.textContent, "bold");
  paint(place, [h("p", { key: "p" }, "words again")]);
  assert.equal(place.textContent, "words again");
});

test("attributes that are not there are taken away", () => {
  const place = room();
  paint(place, [h("button", { key: "b", disabled: true, title: "why" }, "go")]);
  paint(place, [h("button", { key: "b", disabled: false }, "go")]);
  assert.deepEqual([...place.children[0].attributes], []);
});

test("a choice shows what the document says, among choices that are only just painted", () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  assert.equal(place.children[2].value, "in");
});

test("a field follows the document, but not while something else is being typed there", () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  const field = input(place);
  paint(place, panel("Title", "Other", "in"));
  assert.equal(field.value, "Other");
  field.focus();
  field.value = "Half a wo";
  paint(place, panel("Title", "Third", "in"));
  assert.equal(field.value, "Half a wo");
});

test("a field that is left without its typing being taken shows the document again", () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  const field = input(place);
  field.value = "left";
  paint(place, panel("Title", "Grader", "in"));
  assert.equal(field.value, "Grader");
});

test("what is refused stays to be mended", () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  const field = input(place);
  field.value = "";
  field.setAttribute("aria-invalid", "true");
  paint(place, panel("Title", "Grader", "in"));
  assert.equal(field.value, "");
});

test("what is asked about stays until it is taken, and then is shown as the document writes it", async () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  const field = input(place);
  field.value = " New grader ";
  let answer = (/** @type {boolean} */ _) => {};
  const asking = whileAsked(
    field,
    () =>
      new Promise((done) => {
        answer = done;
      }),
  );
  paint(place, panel("Title", "Grader", "in"));
  assert.equal(field.value, " New grader ");
  assert.ok(isUntouched(field), "it is not asked about twice");
  answer(true);
  await asking;
  paint(place, panel("Title", "New grader", "in"));
  assert.equal(field.value, "New grader");
});

test("what is typed on while the first part is asked about is not lost", async () => {
  const place = room();
  paint(place, panel("Title", "Grader", "in"));
  const field = input(place);
  field.focus();
  field.value = "New";
  const asking = whileAsked(field, async () => true);
  field.value = "New grader";
  await asking;
  paint(place, panel("Title", "New", "in"));
  assert.equal(field.value, "New grader");
  assert.ok(!isUntouched(field));
});

test("a number that was taken is shown as the document writes it, in the field that still has the focus", () => {
  const place = room();
  paint(place, panel("Title", "3", "in"));
  const field = input(place);
  field.focus();
  field.value = "5.0";
  taken(field);
  paint(place, panel("Title", "5", "in"));
  assert.equal(field.value, "5");
});

test("a slider under the hand is not pushed back by rounding", () => {
  const place = room();
  const slider = (/** @type {number} */ value) => [h("input", { key: "range", type: "range", value })];
  paint(place, slider(0));
  place.children[0].value = "12.5";
  assert.equal(
    writes(() => paint(place, slider(12.5 + 1e-9))),
    0,
  );
  paint(place, slider(0));
  assert.equal(place.children[0].value, "0");
});

test("an element that stands on the page anyway is written to only when it changes", () => {
  const place = room();
  write(place, "kept");
  mark(place, "data-state", "live");
  mark(place, "hidden", false);
  assert.equal(
    writes(() => {
      write(place, "kept");
      mark(place, "data-state", "live");
      mark(place, "hidden", false);
    }),
    0,
  );
  mark(place, "hidden", true);
  assert.equal(place.getAttribute("hidden"), "");
});
