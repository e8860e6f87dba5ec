/**
 * The page: starts with a working mount and ties hands, sheet, panels and server together.
 * @module main
 */

import { Editor } from "./editor.js";
import { listen } from "./drag.js";
import { Detail } from "./detail.js";
import { withEdit, withField } from "./edits.js";
import { Live } from "./live.js";
import { headlines } from "./panels/headlines.js";
import { notices } from "./panels/notices.js";
import { picked } from "./panels/picked.js";
import { picker } from "./panels/picker.js";
import { beside, tabs } from "./panels/tabs.js";
import { strokes } from "./panels/strokes.js";
import { titleblock } from "./panels/titleblock.js";
import { handle } from "./mount.js";
import { standing } from "./placed.js";
import { magnificationFor } from "./scene.js";
import { handlePixel } from "./marks/handles.js";
import { Sheet } from "./sheet.js";
import { staffRoom } from "./marks/staff.js";
import { Store } from "./store.js";
import { paint } from "./svg.js";
import { GRIDS, amount, number, read } from "./units.js";

const FIRST = "3-twin-cylinders";

/** @template {Element} T @param {string} selector @returns {T} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {T} */ (found);
}

const place = {
  aside: /** @type {HTMLElement} */ (find("#readout")),
  headlines: find("#headlines"),
  tabs: find("#tabs"),
  panel: find("#panel"),
  strokes: find("#strokes"),
  title: find("#titleblock"),
  notices: find("#notices"),
  picked: /** @type {HTMLElement} */ (find("#picked")),
  picker: find("#picker"),
  name: find("#mount-title"),
  note: find("#mount-note"),
  live: find("#spoken"),
  grid: /** @type {HTMLSelectElement} */ (find("#grid")),
};

/** @type {{name: string, mount: any}[]} */
let shipped = [];
const sheet = new Sheet(find("#sheet"));
const store = new Store({
  mount: null,
  shipped: null,
  command: {},
  readout: null,
  answered: null,
  refusal: null,
  asking: false,
  link: "waiting",
  picked: null,
  placing: false,
  chosen: null,
  drafts: {},
  detail: null,
  tab: "budget",
  heldOut: false,
  reactions: false,
  slopes: false,
  gradings: [],
  fits: null,
  end: "right",
  system: "metric",
  grid: 10,
  view: null,
  magnification: 20,
});

const live = new Live(
  `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/live`,
  (answer, question, newest) => editor.answered(answer, question, newest),
  (link) => link !== store.state.link && store.set({ link }),
);
const editor = new Editor(store, live, (mount) => sheet.fitted(mount));
new Detail(store);

let planned = false;
store.listen((state) => {
  // Numbers are called live only once they are painted; that they wait is said at once.
  if (dataState(state) === "waiting") place.aside.dataset.state = "waiting";
  if (planned) return;
  planned = true;
  requestAnimationFrame(() => {
    planned = false;
    render();
  });
});

function render() {
  let { state } = store;
  if (!state.mount) return;
  if (state.view) {
    const magnification = magnificationFor(state.answered, state.view.scale, staffRoom(sheet.size), state.magnification);
    if (magnification !== state.magnification) {
      state = { ...state, magnification };
      store.state = state;
    }
  }
  sheet.draw(state);
  place.aside.dataset.state = dataState(state);
  paint(place.headlines, headlines(state));
  tabs(place.tabs, place.panel, state);
  paint(place.notices, notices(state));
  paint(place.picker, picker(shipped, state.shipped));
  strokes(place.strokes, state);
  titleblock(place.title, state);
  picked(place.picked, state);
  place.name.textContent = state.mount.title;
  place.note.textContent = state.mount.note ?? "";
  for (const button of document.querySelectorAll("[data-system]")) {
    button.setAttribute("aria-pressed", String(button.getAttribute("data-system") === state.system));
  }
  for (const button of document.querySelectorAll('[data-action="undo"], [data-action="redo"]')) {
    const list = button.getAttribute("data-action") === "undo" ? editor.history.past : editor.history.future;
    button.toggleAttribute("disabled", !list.length);
  }
}

/** @param {import("./store.js").State} state */
function dataState(state) {
  if (state.link === "offline") return "offline";
  if (state.refusal || (state.answered && state.answered.mobility.state !== "located")) return "stale";
  return state.link === "waiting" || state.asking ? "waiting" : "live";
}

/** What a screen reader is told once the numbers settle. */
let settle = 0;
store.listen((state, before) => {
  if (state.answered === before.answered) return;
  clearTimeout(settle);
  settle = window.setTimeout(() => {
    const answer = store.state.answered;
    if (!answer?.budget) return;
    const worst = Math.max(answer.budget.left.worst, answer.budget.right.worst);
    place.live.textContent = `coupling ${number(answer.coupling.worst, "ratio", state.system)}, worst edge error ${amount(worst, "error", state.system)}`;
  }, 900);
});

listen(sheet, {
  whereIs: (name) => {
    const { state } = store;
    const each = handle(state.mount, name);
    if (!each || !state.view) return [-1e9, -1e9];
    const at = state.view.apply(standing(each.at, state.readout?.pose?.bodies[each.body]));
    return handlePixel(each, state.mount, at);
  },
  onPick: (name) => editor.pick(name),
  onStart: () => {
    sheet.moving = true;
    editor.begin();
  },
  onMove: (name, at, free) => editor.drag(name, at, free),
  onEnd: () => {
    sheet.moving = false;
    editor.finish();
  },
  onCancel: (name) => {
    sheet.moving = false;
    editor.cancel(name);
  },
  onTap: (at) => editor.tap(at),
  onPan: (dx, dy) => store.set({ view: store.state.view?.shifted(dx, dy) ?? null }),
  onZoom: (at, factor) => store.set({ view: store.state.view?.zoomed(at, factor) ?? null }),
  onNudge: (name, dx, dy) => editor.nudge(name, dx, dy),
  onChoose: (id) => editor.choose(id),
});

/** @type {Record<string, () => void>} */
const ACTIONS = {
  undo: () => editor.undo(),
  redo: () => editor.redo(),
  fit: () => store.set({ view: sheet.fitted(store.state.mount) }),
  unpick: () => store.set({ picked: null, placing: false }),
  place: () => store.set({ placing: !store.state.placing }),
  "swap-end": () => store.set({ end: store.state.end === "left" ? "right" : "left" }),
  level: () => editor.work({}),
  theme: () => nextTheme(),
  "play-all": () => store.set({ heldOut: false }),
  "play-turned": () => store.set({ heldOut: true }),
  reactions: () => store.set({ reactions: !store.state.reactions }),
  slopes: () => store.set({ slopes: !store.state.slopes }),
};

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target.closest("button") : null;
  if (!target) return;
  const { action, mount, system, choose, tab, edit } = target.dataset;
  if (tab) store.set({ tab });
  if (edit) editor.change(withEdit(store.state.mount, edit));
  if (action) ACTIONS[action]?.();
  if (mount) open(mount);
  if (choose) editor.choose(choose);
  if (system) changeSystem(/** @type {"metric"|"inch"} */ (system));
});

document.addEventListener("input", (event) => {
  const target = /** @type {HTMLInputElement} */ (event.target);
  if (target.dataset.stroke) editor.stroke(target.dataset.stroke, target.valueAsNumber);
});

document.addEventListener("change", (event) => {
  const target = /** @type {HTMLInputElement} */ (event.target);
  const { stroke, strokeTyped, coordinate, field, place: at, preset, nominal, fit } = target.dataset;
  if (target === /** @type {any} */ (place.grid)) store.set({ grid: Number(place.grid.value) });
  else if (stroke) editor.finish();
  else if (field === "title") editor.change({ ...store.state.mount, title: target.value });
  else if (preset && target.value) editor.change({ ...store.state.mount, tolerance: store.state.gradings[Number(target.value)].tolerance });
  else if (fit && target.value) editor.change(withField(store.state, `${fit}.clearance`, Number(target.value)).mount);
  else if (nominal) askFits(target);
  else if (at) typedField(target, at);
  else if (strokeTyped || coordinate || field === "tolerance") typed(target);
});

document.addEventListener("keydown", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  if (target instanceof HTMLInputElement && target.type !== "range") {
    if (event.key === "Enter") target.dispatchEvent(new Event("change", { bubbles: true }));
    if (event.key === "Escape") {
      target.blur();
      store.set({});
    }
    return;
  }
  if (target.dataset?.tab && (event.key === "ArrowRight" || event.key === "ArrowLeft")) {
    const tab = beside(target.dataset.tab, event.key === "ArrowRight" ? 1 : -1);
    store.set({ tab });
    requestAnimationFrame(() => /** @type {HTMLElement|null} */ (document.querySelector(`#tab-${tab}`))?.focus());
    return;
  }
  if (!(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  if (key === "z" || key === "y") {
    event.preventDefault();
    if (key === "y" || event.shiftKey) editor.redo();
    else editor.undo();
  }
});

/** A number typed in: taken over, or refused in place. @param {HTMLInputElement} input */
function typed(input) {
  const { strokeTyped, coordinate, field } = input.dataset;
  const { state } = store;
  if (field === "tolerance" && input.value.trim() === "") {
    const { tolerance: _, ...rest } = state.mount;
    editor.change(rest);
    return;
  }
  const value = read(input.value, field ? "error" : "fine", state.system);
  if (value === null) {
    refuse(input);
    return;
  }
  input.removeAttribute("aria-invalid");
  input.title = "";
  if (strokeTyped) {
    editor.stroke(strokeTyped, value);
    editor.finish();
  } else if (coordinate) editor.coordinate(coordinate === "x" ? 0 : 1, value);
  else editor.change({ ...state.mount, tolerance: value });
}

/** A field of a panel: taken over, taken away when empty, or refused in place. @param {HTMLInputElement} input @param {string} at */
function typedField(input, at) {
  const { state } = store;
  const quantity = input.dataset.quantity;
  const words = input.value.trim();
  const value = words === "" ? undefined : quantity === "words" ? words : read(words, /** @type {any} */ (quantity), state.system);
  if (value === null) {
    refuse(input);
    return;
  }
  input.removeAttribute("aria-invalid");
  const { mount, drafts } = withField(state, at, value);
  store.set({ drafts });
  editor.change(mount);
}

/** @param {HTMLInputElement} input */
function refuse(input) {
  input.setAttribute("aria-invalid", "true");
  input.title = "No number: write it like 12, 3.5 mm, 0.14 in or 1 1/4 in";
}

/** The fits at a pin diameter, from the server's tables. @param {HTMLInputElement} input */
async function askFits(input) {
  const nominal = read(input.value, "fine", store.state.system);
  if (nominal === null || nominal <= 0) {
    refuse(input);
    return;
  }
  input.removeAttribute("aria-invalid");
  const answer = await fetch(`/fits/${Number(nominal.toFixed(4))}`);
  const body = await answer.json();
  if (answer.ok) store.set({ fits: { nominal, fits: body } });
  else {
    input.setAttribute("aria-invalid", "true");
    input.title = body.error.faults[0].message;
    store.set({ fits: null });
  }
}

/** @param {"metric"|"inch"} system */
function changeSystem(system) {
  const steps = GRIDS[system];
  place.grid.replaceChildren(...steps.map(({ label, step }) => new Option(label, String(step))));
  const grid = steps[2].step;
  place.grid.value = String(grid);
  store.set({ system, grid });
}

const THEMES = ["auto", "light", "dark"];

function nextTheme() {
  showTheme(THEMES[(THEMES.indexOf(document.documentElement.dataset.theme ?? "auto") + 1) % THEMES.length]);
}

/** @param {string} theme */
function showTheme(theme) {
  document.documentElement.dataset.theme = theme;
  find("#theme-name").textContent = theme;
  try {
    localStorage.setItem("theme", theme);
  } catch {
    // Private windows may refuse to keep it.
  }
}

/** @param {string} name of a shipped mount */
function open(name) {
  const found = shipped.find((each) => each.name === name);
  if (found) editor.open(found.mount, name);
}

/** @param {string} path */
async function fetched(path) {
  const answer = await fetch(path);
  if (!answer.ok) throw new Error(`${path} answered ${answer.status}`);
  return answer.json();
}

async function start() {
  try {
    showTheme(localStorage.getItem("theme") ?? "auto");
  } catch {
    showTheme("auto");
  }
  changeSystem("metric");
  const list = await fetched("/scenarios");
  shipped = await Promise.all(list.map(async (/** @type {any} */ each) => ({ name: each.name, mount: await fetched(`/scenarios/${each.name}`) })));
  store.set({ gradings: await fetched("/presets") });
  sheet.measure();
  open(shipped.some((each) => each.name === FIRST) ? FIRST : shipped[0].name);
  new ResizeObserver(() => {
    const before = { ...sheet.size };
    sheet.measure();
    if (before.width !== sheet.size.width || before.height !== sheet.size.height) store.set({ view: sheet.fitted(store.state.mount) });
  }).observe(sheet.svg);
}

start().catch(() => {
  place.name.textContent = "The server does not answer";
  place.note.textContent = "Start it again with: python -m app, then load this page anew.";
});
