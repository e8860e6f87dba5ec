/**
 * The working is asked for while its panel is open and the numbers have settled; and what a symbol measures is
 * highlighted on the sheet while it is pointed at.
 * @module core/working
 */

import { answerOf } from "./server.js";
import { stepsOfWorking } from "./wallpages.js";
import { mathOf } from "../values/math.js";
import { own } from "../values/own.js";

const STILL_MS = 40;

/**
 * @typedef {WorkingPlace & {name: string, words: string}} Highlight what is highlighted on the sheet, mm
 * @typedef {Worked & {cylinder: string, end: EndName, system: System, answer: DrawnWorking, holds: boolean}} Found an
 *   answer, what it is of, and whether its numbers still hold
 */

export class Working {
  /** @param {import("./store.js").Store} store @param {Element} panel */
  constructor(store, panel) {
    this.store = store;
    this.panel = panel;
    this.timer = 0;
    /** @type {AbortController|null} */
    this.out = null;
    /** A pointer is down: whatever it drags has not settled. */
    this.held = false;
    store.listen((state, before) => this.noticed(state, before));
    addEventListener("pointerdown", () => this.hold(true), true);
    for (const kind of ["pointerup", "pointercancel"]) addEventListener(kind, () => this.hold(false), true);
    for (const kind of ["pointerover", "focusin", "click"])
      panel.addEventListener(kind, (event) => this.point(event.target));
    panel.addEventListener("pointerleave", () => this.dark());
    panel.addEventListener("focusout", () => this.dark());
    panel.addEventListener("toggle", () => reachable(panel), true);
    new MutationObserver(() => reachable(panel)).observe(panel, {
      childList: true,
      characterData: true,
      subtree: true,
    });
    new ResizeObserver(() => reachable(panel)).observe(panel);
  }

  /** @param {import("./store.js").State} state @param {import("./store.js").State} before */
  noticed(state, before) {
    const asked = /** @type {const} */ ([
      "mount",
      "command",
      "chosen",
      "end",
      "system",
      "tab",
      "answered",
      "asking",
      "seek",
    ]);
    if (asked.every((key) => state[key] === before[key])) return;
    const open = state.tab === "working";
    const holds = open && isOf(state.working, state);
    if (!holds) this.stop();
    if (state.working && state.working.holds !== holds)
      this.store.set({ working: { ...state.working, holds }, highlighted: null });
    if (open && !holds) this.plan();
    else if (open) this.seek();
  }

  /** @param {boolean} held */
  hold(held) {
    this.held = held;
    const { state } = this.store;
    if (held) clearTimeout(this.timer);
    else if (state.tab === "working" && !isOf(state.working, state)) this.plan();
  }

  plan() {
    clearTimeout(this.timer);
    if (this.held || !ready(this.store.state)) return;
    const { mount, command } = this.store.state;
    const last = this.store.state.working;
    // Only a mount that changes may be changing still; another cylinder or end is asked for at once.
    if (last && last.mount === mount && last.command === command) this.ask();
    else this.timer = window.setTimeout(() => this.ask(), STILL_MS);
  }

  stop() {
    clearTimeout(this.timer);
    this.out?.abort();
    this.out = null;
  }

  async ask() {
    const { mount, command, chosen, end, system } = this.store.state;
    const question = { mount, command, cylinder: /** @type {string} */ (chosen), end, system };
    this.stop();
    const out = new AbortController();
    this.out = out;
    try {
      const found = drawn(await answerOf("/working", question, { signal: out.signal }));
      if (!out.signal.aborted) this.store.set({ working: { ...question, answer: found, holds: true } });
      this.seek();
    } catch {
      // Given up, refused, or the server is away: the next readout asks again.
    }
  }

  /** Bring the step that was asked for into sight, once it is there: the panel is painted in the next frame. */
  seek() {
    requestAnimationFrame(() => requestAnimationFrame(() => this.bring()));
  }

  bring() {
    const { seek, working } = this.store.state;
    if (!seek || !working?.holds) return;
    if (this.store.state.demo.wall) {
      const found = stepsOfWorking(this.store.state).find(({ step }) => step === seek);
      if (found) this.store.set(({ demo }) => ({ demo: { ...demo, lines: found.page }, seek: null }));
      return;
    }
    const step = this.panel.querySelector(`[data-step="${seek}"]`);
    if (!step) return;
    step.scrollIntoView({ block: "start" });
    this.store.set({ seek: null });
  }

  /** Highlight what the symbol or row under the pointer or the focus measures. @param {EventTarget|null} target */
  point(target) {
    const found = target instanceof Element ? target.closest("[data-highlight]") : null;
    const { working } = this.store.state;
    if (!found || !working?.holds) {
      this.dark();
      return;
    }
    const key = found.closest("[data-step]")?.getAttribute("data-step");
    const step = working.answer.steps.find((each) => each.key === key);
    const name = found.getAttribute("data-highlight");
    const highlighted = found.hasAttribute("data-row") ? ofRow(step, name) : ofSymbol(step, name);
    if (!highlighted) {
      this.dark();
      return;
    }
    if (JSON.stringify(highlighted) !== JSON.stringify(this.store.state.highlighted)) this.store.set({ highlighted });
  }

  dark() {
    if (this.store.state.highlighted) this.store.set({ highlighted: null });
  }
}

/** What a row measures. @param {DrawnStep|undefined} step @param {string|null} label @returns {Highlight|null} */
function ofRow(step, label) {
  const row = step?.table?.rows.find((each) => each.label === label);
  return row?.place ? { ...row.place, name: "", words: row.label } : null;
}

/** What a symbol measures. @param {DrawnStep|undefined} step @param {string|null} name @returns {Highlight|null} */
function ofSymbol(step, name) {
  const symbol = step?.symbols.find((each) => each.name === name);
  return symbol?.place ? { ...symbol.place, name: symbol.name, words: symbol.shown } : null;
}

/** The smallest letters of a formula, pixels. */
const SMALLEST = 10.5;

/** Formulas too wide for the panel are set smaller, down to what can still be read. @param {Element[]} rooms */
function fit(rooms) {
  const all = rooms.map((room) => ({
    room,
    math: /** @type {HTMLElement|null} */ (room.querySelector(":scope > math")),
  }));
  // First all is written, then all is read, then written again: the page is laid out once in between.
  for (const { math } of all) if (math?.style.fontSize) math.style.fontSize = "";
  const wide = all.filter(({ room, math }) => math && room.scrollWidth > room.clientWidth);
  const sizes = wide.map(({ room, math }) =>
    Math.max(
      SMALLEST,
      (parseFloat(getComputedStyle(/** @type {HTMLElement} */ (math)).fontSize) * room.clientWidth) /
        (room.scrollWidth + 4),
    ),
  );
  wide.forEach(({ math }, index) => {
    /** @type {HTMLElement} */ (math).style.fontSize = `${sizes[index]}px`;
  });
}

/** What is too wide for the panel is scrolled by keys too; what fits is no stop on the way. @param {Element} panel */
function reachable(panel) {
  const rooms = [...panel.querySelectorAll(".formula-room")];
  fit(rooms);
  const wide = rooms.map((room) => room.scrollWidth > room.clientWidth);
  rooms.forEach((room, index) => (wide[index] ? room.setAttribute("tabindex", "0") : room.removeAttribute("tabindex")));
}

/** @param {Found|null} working @param {import("./store.js").State} state */
function isOf(working, state) {
  return (
    working !== null &&
    state.answered !== null &&
    working.mount === state.mount &&
    working.command === state.command &&
    working.cylinder === state.chosen &&
    working.end === state.end &&
    working.system === state.system
  );
}

/** @param {import("./store.js").State} state */
function ready(state) {
  return (
    !state.asking &&
    !state.refusal &&
    state.answered?.mobility.state === "located" &&
    own(state.answered.actuators, state.chosen) !== undefined
  );
}

/** The answer with its MathML made into shapes, once. @param {WorkingAnswer} answer @returns {DrawnWorking} */
function drawn(answer) {
  const steps = answer.steps.map((step) => {
    const names = new Map(
      step.symbols.filter((each) => each.place).map((each) => [JSON.stringify(mathOf(each.symbol)), each.name]),
    );
    return {
      ...step,
      lines: step.lines.map((line) => ({
        ...line,
        formula: mathOf(line.formula, names),
        substituted: line.substituted ? mathOf(line.substituted) : null,
      })),
      symbols: step.symbols.map((each) => ({ ...each, symbol: mathOf(each.symbol) })),
      table: step.table && {
        ...step.table,
        columns: step.table.columns.map((each) => ({
          ...each,
          symbol: each.symbol ? mathOf(each.symbol) : null,
        })),
      },
      matrix: step.matrix ? mathOf(step.matrix) : null,
    };
  });
  return { ...answer, steps };
}
