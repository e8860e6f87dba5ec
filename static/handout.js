/**
 * The handout: one mount on a page, or two side by side, printed by the browser itself.
 * @module handout
 */

import { differences } from "./compare/differences.js";
import { comparison } from "./compare/table.js";
import { budgetTable } from "./handout/budget.js";
import { block, fourNumbers } from "./handout/four.js";
import { assumptions } from "./handout/ground.js";
import { inputTable } from "./handout/inputs.js";
import { printed, viewed } from "./handout/state.js";
import { working } from "./handout/working.js";
import { address, parts, unpack } from "./link.js";
import { Sheet } from "./sheet.js";
import { h, paint } from "./svg.js";
import { wearTheme } from "./theme.js";

const FIRST = "3-twin-cylinders";
/** Width of the printed column on paper, mm; handout.css says the same. */
const COLUMN_MM = 186;
/** What one printed page holds on the shorter of the two papers, Letter, mm: 279.4 less the margins, and some to spare. */
const PAGE_MM = 256;
const WIDTH_PX = 720;
/** How high a drawing may be, pixels of its own; it takes what the words leave of its page. */
const HEIGHTS = { least: 236, most: 420, usual: 300 };

/** @typedef {import("./svg.js").Shape} Shape */
/** @typedef {import("./store.js").State} State */

/** @param {string} selector @returns {any} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return found;
}

/** @type {{mount: any, command: Record<string, number>, answer: any}[]} */
let questions = [];
/** @type {import("./units.js").System} */
let system = "metric";

function render() {
  const states = questions.map((each) => printed(each, system));
  const two = states.length > 1;
  document.body.classList.toggle("two", two);
  paint(find("#leaf"), two ? bothBody(states) : oneBody(states[0]));
  paint(find("#assumptions"), assumptions(states));
  for (const button of document.querySelectorAll("[data-system]")) button.setAttribute("aria-pressed", String(button.getAttribute("data-system") === system));
  drawings(states, HEIGHTS.usual);
  drawings(states, heightLeft(states.length));
  find("main").dataset.state = "ready";
}

/** The height that brings everything on its page, where that can be; what is longer goes on to another page anyway. @param {number} count of drawings */
function heightLeft(count) {
  const mm = find(".leaf").getBoundingClientRect().width / 210;
  const top = find(".leaf-head").getBoundingClientRect().top;
  const end = count > 1 ? find(".halves").getBoundingClientRect().top : find(".leaf-foot").getBoundingClientRect().bottom;
  const over = (end - top) / mm - PAGE_MM;
  const height = HEIGHTS.usual - (over * WIDTH_PX) / COLUMN_MM / count;
  return height < HEIGHTS.least ? HEIGHTS.usual : Math.floor(Math.min(height, HEIGHTS.most));
}

/** @param {State[]} plain @param {number} height pixels */
function drawings(plain, height) {
  const two = plain.length > 1;
  const size = { width: WIDTH_PX, height };
  const states = viewed(plain, size);
  paint(find("#sheet"), states.map((state, index) =>
    h("figure", { key: index, class: "drawing" }, [
      ...(two ? [h("figcaption", { key: "name" }, [h("b", { key: "n" }, "AB"[index]), h("span", { key: "t" }, state.mount.title)])] : []),
      { tag: "svg", attrs: { key: "svg", viewBox: `0 0 ${size.width} ${size.height}`, role: "img", "aria-label": `drawing of ${state.mount.title}` }, kids: [] },
      block(state, size.width / (/** @type {any} */ (state.view).scale * COLUMN_MM), today()),
    ]),
  ));
  [...document.querySelectorAll("#sheet svg")].forEach((svg, index) => {
    const sheet = new Sheet(/** @type {SVGSVGElement} */ (svg));
    sheet.size = size;
    sheet.draw(states[index]);
    // The words on the dashed outline stand in the empty corner at the top.
    svg.querySelector(".layer-ghost-words")?.setAttribute("transform", `translate(-18 ${(two ? 46 : 24) - height})`);
  });
}

/** @param {State} state @returns {Shape[]} */
function oneBody(state) {
  return [
    h("section", { key: "numbers" }, fourNumbers(state)),
    h("section", { key: "working" }, working(state)),
    h("section", { key: "tables", class: "tables" }, [h("div", { key: "budget" }, budgetTable(state)), h("div", { key: "inputs" }, inputTable(state))]),
  ];
}

/** @param {State[]} states @returns {Shape[]} */
function bothBody(states) {
  const [a, b] = states;
  const differ = differences(a.mount, b.mount, system).filter((each) => !each.same);
  const half = (/** @type {State} */ state, /** @type {string} */ name) => h("div", { key: name, class: "half" }, [
    h("h2", { key: "name", class: "half-name" }, `${name}: ${state.mount.title}`),
    h("section", { key: "numbers" }, fourNumbers(state).filter((each) => each.attrs.class === "warning")),
    h("section", { key: "working" }, working(state)),
    h("section", { key: "budget" }, budgetTable(state)),
    h("section", { key: "inputs" }, inputTable(state)),
  ]);
  return [
    h("section", { key: "table", class: "compared" }, comparison(a, b)),
    h("p", { key: "differences", class: "differences" }, differ.length ? `They differ in: ${differ.map((each) => `${each.label.toLowerCase()}: ${each.words}`).join(". ")}.` : "Like for like: the same blade, load, tolerance and joint clearances."),
    h("div", { key: "halves", class: "halves" }, [half(a, "A"), half(b, "B")]),
  ];
}

/** The day in the form of ISO 8601. */
function today() {
  const now = new Date();
  return `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
}

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target.closest("button") : null;
  if (!target) return;
  if (target.dataset.action === "print") print();
  if (target.dataset.system) {
    system = /** @type {any} */ (target.dataset.system);
    render();
    history.replaceState(null, "", await link());
  }
});

/** This page's own address, units included. */
async function link() {
  const names = questions.length > 1 ? ["a", "b"] : ["m"];
  const made = await address("/handout", Object.fromEntries(questions.map(({ mount, command }, index) => [names[index], { mount, command }])));
  return system === "inch" ? `${made}&u=inch` : made;
}

/** Titles are one line; Enter ends the typing. */
find("#title").addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
  if (event.key !== "Enter") return;
  event.preventDefault();
  find("#title").blur();
});

for (const name of ["#title", "#note"]) find(name).addEventListener("input", () => questions.length && render());

/** @param {string} path @param {RequestInit} [how] */
async function fetched(path, how) {
  const answer = await fetch(path, how);
  const body = await answer.json();
  if (!answer.ok) throw new Error(`This mount was refused: ${body.error.faults[0].message}`);
  return body;
}

/** @param {any} mount @param {Record<string, number>} [command] */
async function asked(mount, command = {}) {
  const answer = await fetched("/readout", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ mount, command }) });
  return { mount, command, answer };
}

/** What the address brings, else the first shipped mount. */
async function start() {
  wearTheme();
  const aboard = parts(location.hash);
  const packed = ["a", "b"].every((name) => aboard.has(name)) ? [aboard.get("a"), aboard.get("b")] : [aboard.get("m") ?? aboard.get("a")];
  const carried = packed[0] ? await Promise.all(packed.map((each) => unpack(String(each)))) : [{ mount: await fetched(`/scenarios/${FIRST}`) }];
  questions = await Promise.all(carried.map(({ mount, command }) => asked(mount, command)));
  system = aboard.get("u") === "inch" ? "inch" : (questions[0].mount.display ?? "metric");
  find("#title").textContent = questions.length > 1 ? `${questions[0].mount.title} and ${questions[1].mount.title}, side by side` : questions[0].mount.title;
  find("#date").textContent = today();
  render();
}

start().catch((error) => {
  find("#title").textContent = error instanceof TypeError ? "The server does not answer. Start it again with: blade-mount, then load this page anew." : error.message;
  find("main").dataset.state = "refused";
});
