/**
 * The handout: one mount on a page, or two side by side, printed by the browser itself.
 * @module pages/handout
 */

import { Refused, answerOf, said } from "../core/server.js";
import { differences } from "./compare/differences.js";
import { sentences } from "./compare/sentences.js";
import { causes } from "./compare/table.js";
import { verdicts } from "./compare/verdicts.js";
import { wantedAboard, wantedPart } from "./compare/wanted.js";
import { budgetTable } from "./handout/budget.js";
import { block, fourNumbers } from "./handout/four.js";
import { assumptions } from "./handout/ground.js";
import { inputTable } from "./handout/inputs.js";
import { ranShapes } from "./handout/ran.js";
import { worked, worksAboard } from "./run/mounts.js";
import { printed, viewed } from "./handout/state.js";
import { travelShapes, travelling } from "./handout/travel.js";
import { working } from "./handout/working.js";
import { address, endsAboard, parts, typedAboard, unpack, unpackMount, withTyped } from "../document/link.js";
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
/** Rows a half page of two mounts has room for: what is smaller, or comes later, is summed up in one more. */
const HALF_ROWS = { budget: 14, members: 6 };
/** How high a drawing may be, pixels of its own; it takes what the words leave of its page. */
const HEIGHTS = { small: 130, least: 170, most: 420, usual: 300 };

/** @typedef {import("../values/shapes.js").Shape} Shape */
/** @typedef {import("./handout/state.js").Printed} State */

/** @template {HTMLElement} [T=HTMLElement] @param {string} selector @returns {T} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {T} */ (found);
}

/** @type {{mount: Mount, command: Command, answer: Readout, judged: Detailed, short: ShortLine[]}[]} */
let questions = [];
/** @type {System} */
let system = "metric";
/** What the comparison asks of the ends, for the way back to it. */
let ends = { left: 0, right: 0 };
/** The two compared, and the correction they are asked for. @type {Comparison|null} */
let found = null;
let wanted = wantedAboard(undefined);
/** The run that came along: its settings as the link has them, and what every mount made of it. */
let run = /** @type {{packed: string, settings: RunSettings, made: Ran[]}|null} */ (null);

/** The mount over its travel, where that is wanted. @type {import("./handout/travel.js").Travelling|null} */
let travel = null;

function render() {
  const states = questions.map((each) => printed(each, system));
  const two = states.length > 1;
  document.body.classList.toggle("two", two);
  paint(find("#leaf"), two ? bothBody(states) : oneBody(states[0]));
  paint(find("#assumptions"), assumptions(states));
  for (const button of document.querySelectorAll("[data-system]"))
    button.setAttribute("aria-pressed", String(button.getAttribute("data-system") === system));
  if (run) {
    const { settings, made } = run;
    const mounts = questions.map(({ mount }, index) => ({ mount, ran: made[index] }));
    paint(find("#ran"), ranShapes(mounts, settings, system));
    find("#ran").hidden = false;
  }
  find("#travel").hidden = !travel;
  if (travel) paint(find("#travel"), travelShapes(questions[0], travel, system));
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
    count > 1 ? find(".halves").getBoundingClientRect().top : find(".leaf-foot").getBoundingClientRect().bottom;
  const over = (end - top) / mm - PAGE_MM;
  const height = HEIGHTS.usual - (over * WIDTH_PX) / COLUMN_MM / count;
  // Of two mounts the first page holds drawings and table whatever it takes; of one, what is long goes on anyway.
  if (count > 1) return Math.floor(Math.min(Math.max(height, HEIGHTS.small), HEIGHTS.most));
  return height < HEIGHTS.least ? HEIGHTS.usual : Math.floor(Math.min(height, HEIGHTS.most));
}

/** @param {State[]} plain @param {number} height pixels */
function drawings(plain, height) {
  const two = plain.length > 1;
  const size = { width: WIDTH_PX, height };
  const states = viewed(plain, size);
  paint(
    find("#sheet"),
    states.map((state, index) =>
      h("figure", { key: index, class: "drawing" }, [
        ...(two
          ? [
              h("figcaption", { key: "name" }, [
                h("b", { key: "n" }, "AB"[index]),
                h("span", { key: "t" }, state.mount.title),
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
        block(state, size.width / ((state.view?.scale ?? 1) * COLUMN_MM), today()),
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
  return [
    h("section", { key: "numbers" }, fourNumbers(state)),
    // One page has room for the one or the other.
    ...(travel ? [] : [h("section", { key: "working" }, working(state, questions[0].short))]),
    h("section", { key: "tables", class: "tables" }, [
      h("div", { key: "budget" }, budgetTable(state)),
      h("div", { key: "inputs" }, inputTable(state)),
    ]),
  ];
}

/** @param {State[]} states @returns {Shape[]} */
function bothBody(states) {
  const [a, b] = states;
  const differ = differences(a.mount, b.mount, system).filter((each) => !each.same);
  const half = (/** @type {State} */ state, /** @type {string} */ name) =>
    h("div", { key: name, class: "half" }, [
      h("h2", { key: "name", class: "half-name" }, `${name}: ${state.mount.title}`),
      h(
        "section",
        { key: "numbers" },
        fourNumbers(state).filter((each) => each.attrs.class === "warning"),
      ),
      h("section", { key: "working" }, working(state, questions[name === "A" ? 0 : 1].short)),
      h("section", { key: "budget" }, budgetTable(state, HALF_ROWS.budget)),
      h("section", { key: "inputs" }, inputTable(state, HALF_ROWS.members)),
    ]);
  return [
    ...(found ? comparedParts({ found, mounts: [a.mount, b.mount], system }) : []),
    h(
      "p",
      { key: "differences", class: "differences" },
      differ.length
        ? `They differ in: ${differ.map((each) => `${each.label.toLowerCase()}: ${each.words}`).join(". ")}.`
        : "Like for like: the same blade, load, tolerance and joint clearances.",
    ),
    h("div", { key: "halves", class: "halves" }, [half(a, "A"), half(b, "B")]),
  ];
}

/** @param {import("./compare/table.js").Shown} shown @returns {Shape[]} */
function comparedParts(shown) {
  const each = verdicts(shown.found, shown.mounts, shown.system);
  return [
    h(
      "section",
      { key: "verdicts", class: "verdicts" },
      each.map((shapes, index) => h("div", { key: index, class: "verdict" }, shapes)),
    ),
    h("section", { key: "sentences" }, sentences(shown)),
    h("section", { key: "table" }, causes(shown)),
  ];
}

/** The day in the form of ISO 8601. */
function today() {
  const now = new Date();
  const two = (/** @type {number} */ part) => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

find("[data-travel]").addEventListener("change", async ({ target }) => {
  travel = /** @type {HTMLInputElement} */ (target).checked ? await travelling(questions[0]) : null;
  render();
  history.replaceState(null, "", await link());
});

document.addEventListener("click", async (event) => {
  const target = event.target instanceof Element ? event.target.closest("button") : null;
  if (!target) return;
  const { action } = target.dataset;
  if (action === "print") print();
  if (action === "sketch") await toSketch();
  if (action === "compare")
    location.assign(
      await address("/compare", aboard(["a", "b"]), system, { ends, typed: typed.words, wanted: wantedPart(wanted) }),
    );
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
  const more = { ends, typed: typed.words, ...(questions.length > 1 ? { wanted: wantedPart(wanted) } : {}) };
  const own = await address("/handout", aboard(questions.length > 1 ? ["a", "b"] : ["m"]), system, more);
  return `${own}${run ? `&g=${run.packed}` : ""}${travel ? "&t=1" : ""}`;
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

/** @param {Mount} mount @param {Record<string, number>} [command] */
async function asked(mount, command = {}) {
  const [answer, judged, short] = await Promise.all([
    answerOf("/readout", { mount, command }),
    answerOf("/detail", { mount, command }),
    answerOf("/working/short", { mount, command }),
  ]);
  return { mount, command, answer, judged, short };
}

/**
 * The run a link brings, made by every mount on the page.
 * @param {string|undefined} packed @param {string|undefined} working which cylinders work, of mounts with more than two
 */
async function ranAlong(packed, working) {
  if (!packed) return null;
  const settings = /** @type {RunSettings} */ (await unpack(packed));
  const works = await worksAboard(working);
  const made = await Promise.all(
    questions.map(({ mount }, at) => answerOf("/run", { mount, run: worked(settings, at === 0 ? works.a : works.b) })),
  );
  return { packed: working ? `${packed}&w=${working}` : packed, settings, made };
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
  const [a, b] = questions.map(({ mount, command }) => ({ mount, command }));
  if (b) found = await answerOf("/compare", { a, b, ...wanted });
  system = systemOf(brought.get("u")) ?? preferredUnits() ?? questions[0].mount.display ?? "metric";
  find("#title").textContent =
    questions.length > 1
      ? `${questions[0].mount.title} and ${questions[1].mount.title}, side by side`
      : questions[0].mount.title;
  find("#date").textContent = today();
  typed.restore(typedAboard(brought));
  render();
  run = await ranAlong(brought.get("g"), brought.get("w"));
  find("#with-travel").hidden = questions.length > 1;
  if (brought.has("t") && questions.length === 1) {
    travel = await travelling(questions[0]);
    /** @type {HTMLInputElement} */ (find("[data-travel]")).checked = travel !== null;
  }
  if (run || travel) render();
}

start().catch((error) => {
  find("#title").textContent =
    error instanceof TypeError
      ? "The server does not answer. Start it again with: blade-mount, then load this page anew."
      : `${error instanceof Refused ? "This mount was refused. " : ""}${said(error, system)}`;
  find("main").dataset.state = "refused";
});
