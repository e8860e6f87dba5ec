/**
 * The handout: one mount on a page, or two side by side, printed by the browser itself.
 * @module pages/handout
 */

import { Refused, answerOf, said } from "../core/server.js";
import { choicesAboard } from "./compare/choices.js";
import { wantedAboard, wantedPart } from "./compare/wanted.js";
import { asked, bothWorn, runOf, travelOf } from "./handout/asking.js";
import { bothBody, scaleWords } from "./handout/both.js";
import { budgetTable } from "./handout/budget.js";
import { block, fourNumbers } from "./handout/four.js";
import { assumptions } from "./handout/ground.js";
import { inputTable } from "./handout/inputs.js";
import { judgedShapes } from "./handout/judged.js";
import { ranShapes } from "./handout/ran.js";
import { printed, viewed } from "./handout/state.js";
import { travelShapes } from "./handout/travel.js";
import { working } from "./handout/working.js";
import { address, endsAboard, parts, typedAboard, unpackMount, withTyped } from "../document/link.js";
import { rememberPair } from "../core/pairing.js";
import { Sheet } from "../sheet/sheet.js";
import { paint } from "../core/paint.js";
import { h } from "../values/shapes.js";
import { wearTheme } from "../core/theme.js";
import { preferUnits, preferredUnits, systemOf } from "../values/units.js";

const FIRST = "3-twin-cylinders";
/** Width of the printed column on paper, mm; handout.css says the same. */
const COLUMN_MM = 186;
/**
 * What one printed page holds on the shorter of the two papers, Letter, mm: 279.4 less the margins, and some to spare.
 */
const PAGE_MM = 256;
const WIDTH_PX = 720;
/** Of one mount beside one of them, or beside both. */
const CLOSE_ROWS = { budget: 7, members: 3 };
const CLOSEST_ROWS = { budget: 4, members: 1 };
/** How high a drawing may be, pixels of its own; it takes what the words leave of its page. */
const HEIGHTS = { smallest: 88, small: 150, least: 88, most: 420, usual: 300 };

/** @typedef {import("../values/shapes.js").Shape} Shape */
/** @typedef {import("./handout/state.js").Printed} State */

/** @template {HTMLElement} [T=HTMLElement] @param {string} selector @returns {T} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {T} */ (found);
}

/** @type {import("./handout/asking.js").Question[]} */
let questions = [];
/** @type {System} */
let system = "metric";
/** What the comparison asks of the ends, for the way back to it. */
let ends = { left: 0, right: 0 };
/** The two compared, and the correction they are asked for. @type {Comparison|null} */
let found = null;
/** The same with worn joints, and how far worn, mm. @type {import("./handout/both.js").WornFound|null} */
let worn = null;
let wanted = wantedAboard(undefined);
/** The run that is asked for, and what every mount made of it. @type {import("./handout/asking.js").RunMade|null} */
let run = null;
/** The travel, where it is asked for. @type {import("./handout/asking.js").TravelMade|null} */
let travel = null;
/** What was chosen where these were compared: for the way back. */
let choices = /** @type {string|undefined} */ (undefined);

function render() {
  const states = questions.map((each) => printed(each, system));
  const two = states.length > 1;
  document.body.classList.toggle("two", two);
  paint(find("#leaf"), two ? bothBody({ states, questions, found, worn, travel, run, system }) : oneBody(states[0]));
  paint(find("#assumptions"), assumptions(states));
  for (const button of document.querySelectorAll("[data-system]"))
    button.setAttribute("aria-pressed", String(button.getAttribute("data-system") === system));
  paint(find("#judged"), two ? [] : judgedShapes(states[0], questions[0].verdict));
  const alone = run && !two ? run : null;
  find("#ran").hidden = !alone;
  paint(
    find("#ran"),
    alone ? ranShapes({ mount: questions[0].mount, ran: alone.made[0] }, alone.settings, system) : [],
  );
  find("#travel").hidden = !travel?.one;
  find("#later").classList.toggle("together", Boolean(alone && travel?.one));
  if (travel?.one) paint(find("#travel"), travelShapes(questions[0], travel.one, system));
  drawings(states, HEIGHTS.usual);
  drawings(states, heightLeft(states.length));
  find("main").dataset.state = "ready";
}

/**
 * The height that brings everything on its page, where that can be; what is longer goes on to another page anyway.
 * @param {number} count of drawings
 */
function heightLeft(count) {
  const mm = find(".leaf").getBoundingClientRect().width / 210;
  const top = find(".leaf-head").getBoundingClientRect().top;
  const end =
    count > 1 ? find(".second").getBoundingClientRect().top : find(".leaf-foot").getBoundingClientRect().bottom;
  const over = (end - top) / mm - PAGE_MM;
  const height = HEIGHTS.usual - (over * WIDTH_PX) / COLUMN_MM / count;
  // Of two mounts the first page holds drawings and table whatever it takes; of one, what is long goes on anyway.
  if (count > 1) return Math.floor(Math.min(Math.max(height, HEIGHTS.small), HEIGHTS.most));
  const least = travel || run ? HEIGHTS.smallest : HEIGHTS.least;
  return height < least ? HEIGHTS.usual : Math.floor(Math.min(height, HEIGHTS.most));
}

/** @param {State[]} plain @param {number} height pixels */
function drawings(plain, height) {
  const two = plain.length > 1;
  const size = { width: WIDTH_PX, height };
  const states = viewed(plain, size);
  const onPaper = (/** @type {State} */ { view }) => size.width / ((view?.scale ?? 1) * COLUMN_MM);
  paint(
    find("#sheet"),
    states.map((state, index) =>
      h("figure", { key: index, class: "drawing" }, [
        ...(two
          ? [
              h("figcaption", { key: "name" }, [
                h("b", { key: "n" }, "AB"[index]),
                h("span", { key: "t", class: "drawn-name" }, state.mount.title),
                h("span", { key: "scale", class: "drawn-scale" }, scaleWords(state, onPaper(state))),
              ]),
            ]
          : []),
        {
          tag: "svg",
          attrs: {
            key: "svg",
            viewBox: `0 0 ${size.width} ${size.height}`,
            role: "img",
            "aria-label": `drawing of ${state.mount.title}`,
          },
          kids: [],
        },
        ...(two ? [] : [block(state, onPaper(state), today())]),
      ]),
    ),
  );
  [...document.querySelectorAll("#sheet svg")].forEach((svg, index) => {
    const sheet = new Sheet(/** @type {SVGSVGElement} */ (svg));
    sheet.size = size;
    sheet.draw(states[index]);
  });
}

/** @param {State} state @returns {Shape[]} */
function oneBody(state) {
  const rows = travel && run ? CLOSEST_ROWS : travel || run ? CLOSE_ROWS : null;
  return [
    h("section", { key: "numbers" }, fourNumbers(state)),
    // One page has room for the one or the other.
    ...(travel || run ? [] : [h("section", { key: "working" }, working(state, questions[0].short))]),
    h("section", { key: "tables", class: "tables" }, [
      h("div", { key: "budget" }, budgetTable(state, rows?.budget)),
      h("div", { key: "inputs" }, inputTable(state, rows?.members)),
    ]),
  ];
}

/** The day in the form of ISO 8601. */
function today() {
  const now = new Date();
  const two = (/** @type {number} */ part) => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

for (const name of /** @type {const} */ (["travel", "run"])) {
  find(`[data-${name}]`).addEventListener("change", async ({ target }) => {
    await further({ [name]: /** @type {HTMLInputElement} */ (target).checked });
    history.replaceState(null, "", await link());
  });
}

/**
 * Ask for what is wanted beside, and show it; what is not named stays.
 * @param {{travel?: boolean, run?: boolean}} want @param {string} [packed] the run that a link brings
 * @param {string} [working] which cylinders work in it, of mounts with more than two
 */
async function further(want, packed, working) {
  find("main").dataset.more = "waiting";
  if (want.travel !== undefined) travel = want.travel ? await travelOf(questions) : null;
  if (want.run !== undefined) run = want.run ? await runOf(questions, wanted, packed, working) : null;
  /** @type {HTMLInputElement} */ (find("[data-travel]")).checked = Boolean(travel?.one ?? travel?.both);
  /** @type {HTMLInputElement} */ (find("[data-run]")).checked = run !== null;
  render();
  find("main").dataset.more = "ready";
}

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target.closest("button") : null;
  if (!target) return;
  const { action } = target.dataset;
  if (action === "print") print();
  if (action === "sketch") await toSketch();
  if (action === "compare") {
    const more = { ends, typed: typed.words, wanted: wantedPart(wanted), choices, run: run?.packed };
    location.assign(await address("/compare", aboard(["a", "b"]), system, more));
  }
  if (target.dataset.system) {
    system = /** @type {System} */ (target.dataset.system);
    preferUnits(system);
    render();
    history.replaceState(null, "", await link());
  }
});

/** What is on the page, by the names of a link's parts. @param {string[]} names */
function aboard(names) {
  return Object.fromEntries(questions.map(({ mount, command }, index) => [names[index], { mount, command }]));
}

/** This page's own address, units included. */
async function link() {
  const two = questions.length > 1;
  const more = { ends, typed: typed.words, choices, run: run?.packed, ...(two ? { wanted: wantedPart(wanted) } : {}) };
  const own = await address("/handout", aboard(two ? ["a", "b"] : ["m"]), system, more);
  return `${own}${travel ? "&o=1" : ""}`;
}

async function toSketch() {
  const [first, second] = questions;
  if (second) rememberPair("a", second);
  location.assign(await address("/", { m: first }));
}

/** What was typed on this very page: it rides in the page's own address and is nobody else's. */
const typed = {
  /** @type {import("../document/link.js").Typed|null} */
  words: null,
  keeping: 0,
  save: () => {
    typed.words = { title: find("#title").textContent ?? "", note: find("#note").textContent ?? "" };
    typed.keep();
  },
  /** At once, so that a reload on the next keystroke finds it; later where a browser takes no more changes for now. */
  keep: () => {
    clearTimeout(typed.keeping);
    try {
      if (typed.words) history.replaceState(null, "", withTyped(location.hash, typed.words));
    } catch {
      typed.keeping = window.setTimeout(typed.keep, 1000);
    }
  },
  /** @param {import("../document/link.js").Typed|null} words */
  restore: (words) => {
    typed.words = words;
    if (words?.title) find("#title").textContent = words.title;
    if (words?.note) find("#note").textContent = words.note;
  },
};

/** Titles are one line; Enter ends the typing. */
find("#title").addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
  if (event.key !== "Enter") return;
  event.preventDefault();
  find("#title").blur();
});

for (const name of ["#title", "#note"]) {
  find(name).addEventListener("input", () => {
    if (!questions.length) return;
    typed.save();
    render();
  });
}

/** What the address brings, else the first shipped mount. */
async function start() {
  wearTheme();
  const brought = parts(location.hash);
  ends = endsAboard(brought);
  const packed = ["a", "b"].every((name) => brought.has(name))
    ? [brought.get("a"), brought.get("b")]
    : [brought.get("m") ?? brought.get("a")];
  const carried = packed[0]
    ? await Promise.all(packed.map((each) => unpackMount(String(each))))
    : [{ mount: await answerOf(`/scenarios/${FIRST}`), command: {} }];
  questions = await Promise.all(carried.map(({ mount, command }) => asked(mount, command)));
  wanted = wantedAboard(brought.get("r"));
  choices = brought.get("x");
  const [a, b] = questions.map(({ mount, command }) => ({ mount, command }));
  if (b) {
    found = await answerOf("/compare", { a, b, ...wanted });
    worn = await bothWorn({ a, b, ...wanted }, choicesAboard(choices).worn);
  }
  system = systemOf(brought.get("u")) ?? preferredUnits() ?? questions[0].mount.display ?? "metric";
  find("#title").textContent =
    questions.length > 1
      ? `${questions[0].mount.title} and ${questions[1].mount.title}, side by side`
      : questions[0].mount.title;
  find("#date").textContent = today();
  typed.restore(typedAboard(brought));
  render();
  const more = { travel: brought.has("o"), run: brought.has("g") };
  await further(more, brought.get("g"), brought.get("w"));
}

start().catch((error) => {
  find("#title").textContent =
    error instanceof TypeError
      ? "The server does not answer. Start it again with: blade-mount, then load this page anew."
      : `${error instanceof Refused ? "This mount was refused. " : ""}${said(error, system)}`;
  find("main").dataset.state = "refused";
});
