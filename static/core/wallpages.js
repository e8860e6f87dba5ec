/**
 * The working for the wall: page by page, one formula with its numbers and its result on each.
 * @module core/wallpages
 */

import { cylinders } from "../document/mount.js";
import { filled } from "../values/messages.js";
import { reasonFor } from "../values/words.js";

/** @typedef {import("./store.js").State} State */
/** @typedef {import("./working.js").Highlight} Highlight */

/**
 * A page: the words of its step, one of its formulas, or the largest rows of its table; `place` is lit on the drawing.
 * @typedef {Object} Page
 * @property {string} step key of the step it belongs to
 * @property {string} title
 * @property {string} [words]
 * @property {DrawnLine} [line]
 * @property {Listing} [listing]
 * @property {Highlight} [place]
 */

/** @typedef {{head: string, rows: {label: string, shown: string}[], more: number}} Listing rows of a table */

/** Words longer than this have a page of their own. */
const LONG = 130;
/** So many rows of a table are listed. */
const NAMED = 5;

/** @type {WeakMap<DrawnWorking, Page[]>} */
const made = new WeakMap();

/** The pages of the working that is there. @param {State} state @returns {Page[]} */
export function pagesOf({ working }) {
  if (!working) return [];
  const { answer } = working;
  let pages = made.get(answer);
  if (!pages) {
    pages = answer.reason
      ? [{ step: "", title: "The working", words: `– ${filled(answer.reason, answer.system)}` }]
      : answer.steps.flatMap((step, index) => pagesOfStep(step, index, answer.system));
    made.set(answer, pages);
  }
  return pages;
}

/** Whether the working takes the wall. @param {State} state */
export function isWorking({ demo }) {
  return demo.board === "working";
}

/** The number of the page on the wall, from 1; the first until it is turned. @param {State} state */
export function pageNumber(state) {
  const { lines } = state.demo;
  return Math.max(1, Math.min(Number.isFinite(lines) ? lines : 1, pagesOf(state).length));
}

/** The page on the wall, if there is one. @param {State} state @returns {Page|null} */
export function pageOnWall(state) {
  return pagesOf(state)[pageNumber(state) - 1] ?? null;
}

/** The steps of the working, each with the number of its first page. @param {State} state */
export function stepsOfWorking(state) {
  const pages = pagesOf(state);
  return pages.flatMap(({ step, title }, index) =>
    index && pages[index - 1].step === step ? [] : [{ step, title, page: index + 1 }],
  );
}

/** Why there is no working, or that it is on its way. @param {State} state */
export function whyNone(state) {
  if (!cylinders(state.mount).length) return "– this mount has no cylinder";
  if (!state.answered?.budget) return `– ${reasonFor(state, "budget")}`;
  return "working it out…";
}

/** @param {DrawnStep} step @param {number} index @param {System} system @returns {Page[]} */
function pagesOfStep(step, index, system) {
  const same = { step: step.key, title: `${index + 1}  ${step.title}` };
  if (step.reason) return [{ ...same, words: `– ${filled(step.reason, system)}` }];
  const lines = step.lines.map((line) => ({ ...same, line, ...lit(placeOf(step, line)) }));
  const listing = step.table?.rows.length ? listingOf(step.table) : null;
  const listed = listing ? [{ ...same, listing, ...lit(ofLargest(step)) }] : [];
  const [first, ...rest] = lines;
  if (!first || step.words.length > LONG)
    return [...(step.words ? [{ ...same, words: step.words }] : []), ...lines, ...listed];
  return [{ ...first, words: step.words }, ...rest, ...listed];
}

/** @param {Highlight|null} place */
function lit(place) {
  return place ? { place } : {};
}

/**
 * What a formula's result measures; of one that measures nothing, the first of its symbols that does.
 * @param {DrawnStep} step @param {DrawnLine} line @returns {Highlight|null}
 */
function placeOf(step, line) {
  const own = step.symbols.find((each) => each.name === line.symbol);
  const symbol = own?.place ? own : step.symbols.find((each) => each.place && isIn(line.formula, each.name));
  return symbol?.place ? { ...symbol.place, name: symbol.name, words: symbol.shown } : null;
}

/** Whether a formula has a symbol that has a place. @param {Shape} shape @param {string} name @returns {boolean} */
function isIn({ attrs, kids }, name) {
  return attrs["data-highlight"] === name || (typeof kids !== "string" && kids.some((each) => isIn(each, name)));
}

/** Where the largest row of the table stands. @param {DrawnStep} step @returns {Highlight|null} */
function ofLargest({ table }) {
  const row = table?.rows[0];
  return row?.place ? { ...row.place, name: "", words: row.label } : null;
}

/** The first rows of a table, with its last column alone. @param {DrawnTable} table @returns {Listing} */
function listingOf({ columns, rows }) {
  const last = columns[columns.length - 1];
  const shown = rows.slice(0, rows.length > NAMED ? NAMED - 1 : NAMED);
  return {
    head: `${last.title}${last.unit ? `, ${last.unit}` : ""}`,
    rows: shown.map(({ label, cells }) => ({ label, shown: cells[cells.length - 1].shown })),
    more: rows.length - shown.length,
  };
}
