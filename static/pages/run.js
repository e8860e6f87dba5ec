/**
 * A grading run: ties mounts, settings, the clock, the drawings and what comes of it together.
 * @module pages/run
 */

import { listenToButtons } from "../core/clicks.js";
import { oncePerFrame } from "../core/frame.js";
import { mark, paint, write } from "../core/paint.js";
import { answerOf, said as wrong } from "../core/server.js";
import { wearTheme } from "../core/theme.js";
import { address, pack, parts, unpack } from "../document/link.js";
import { h } from "../values/shapes.js";
import { amount, preferUnits, preferredUnits, systemOf } from "../values/units.js";
import { brought } from "./compare/opening.js";
import { fourNumbers } from "./run/four.js";
import { bestTable, costTable } from "./run/further.js";
import { Mounts, pairChoices, pairsOf, worked, worksAboard } from "./run/mounts.js";
import { Playback } from "./run/playback.js";
import { Runner } from "./run/runner.js";
import { notices } from "./run/notices.js";
import { magnificationOf, sectionShapes, timeAt } from "./run/section.js";
import { largest } from "./run/series.js";
import { changedBy, showSettings } from "./run/settings.js";
import { Stage } from "./run/stage.js";
import { VariantRuns, variantTable } from "./run/variants.js";
import { fourOf, together, verdict } from "./run/words.js";

const NAMES = /** @type {const} */ (["a", "b"]);
const FIRST = { a: "2-pivot-on-carriage", b: "3-twin-cylinders" };
const LARGEST_MOVEMENT_PX = 46;
const USUAL_REACH = 8;

/** @template {Element} [T=HTMLElement] @param {string} selector @returns {T} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {T} */ (found);
}

/** @type {ReadyRun[]} */
let ready = [];
/** @type {RunSettings} */
let settings = /** @type {any} */ ({}); // any: nothing is shown or asked before the ready runs are there
let system = /** @type {System} */ ("metric");
let quiz = false;
/** What was not opened, in words. @type {string[]} */
const unopened = [];

const plan = oncePerFrame(render);
const sides = { a: new Runner("a", plan), b: new Runner("b", plan) };
const stages = { a: new Stage(find("#stage-a")), b: new Stage(find("#stage-b")) };
const clock = new Playback(plan);
const mounts = new Mounts();
const variants = new VariantRuns(mounts, plan);

function shown() {
  return NAMES.map((name) => sides[name]).filter(({ mount }) => mount);
}

function render() {
  if (!ready.length) return;
  const runners = shown();
  clock.there = Math.max(0, ...runners.map(({ series }) => series.seconds));
  clock.more = runners.some(({ state, refusal }) => state === "waiting" && !refusal);
  const reach = Math.max(
    ...runners.map(({ series, mount }) =>
      Math.max(
        1.12 * largest(series.errors.left, series.errors.right),
        1.12 * largest(series.ground.left, series.ground.right),
        2.2 * (mount?.tolerance ?? 0),
        USUAL_REACH,
      ),
    ),
  );
  mark(find("#run"), "data-sides", String(runners.length));
  for (const runner of runners) draw(runner, reach);
  const told = runners.map(({ name, live, mount, series }) => ({
    name,
    live,
    tolerance: mount?.tolerance ?? null,
    largest: largest(series.errors.left, series.errors.right),
  }));
  const start = { left: settings.start?.left ?? 0, right: settings.start?.right ?? 0 };
  const { a, b } = mounts.kept;
  if (open("#variants-part")) paint(find("#variants"), quiz ? [] : variantTable(variants.rows, [a, b], start, system));
  paint(find("#four"), fourNumbers(told, start, system, quiz));
  paint(find("#sentence"), quiz ? [] : sentences(start));
  paint(find("#said"), notices(shown(), unopened, system, onWall()));
  if (open("#costs-part")) paint(find("#costs"), quiz ? [] : costTable(runners, system));
  if (open("#best-part")) paint(find("#best"), quiz ? [] : bestTable(runners, system));
  const used = runners.find(({ live }) => live)?.live?.used ?? null;
  showSettings(find("#settings"), settings, used, system);
  playing();
  for (const button of document.querySelectorAll("[data-ready]")) {
    const own = ready.find((each) => each.name === /** @type {HTMLElement} */ (button).dataset.ready);
    mark(button, "aria-pressed", String(JSON.stringify(own?.run) === JSON.stringify(settings)));
  }
  press("[data-system]", "system", system);
  mark(find("#run"), "data-state", stateOf(runners));
}

/** Whether the page is large, for a class. */
function onWall() {
  return document.body.classList.contains("wall");
}

/** How high the letters beside a section are, pixels: on the wall what reads from the back row. */
function letters() {
  return onWall() ? innerHeight / 30 : 11.5;
}

/** @param {Runner[]} runners */
function stateOf(runners) {
  const states = runners.map(({ state }) => state);
  return states.includes("offline") ? "offline" : states.every((each) => each === "live") ? "live" : "waiting";
}

/** @param {Runner} runner @param {number} reach mm */
function draw({ name, mount, live, series }, reach) {
  if (!mount) return;
  write(find(`#title-${name}`), mount.title);
  const section = find(`#section-${name}`);
  const box = section.getBoundingClientRect();
  const size = { width: Math.max(box.width, 200), height: Math.max(box.height, 60) };
  section.setAttribute("viewBox", `0 0 ${size.width} ${size.height}`);
  const now = series.step ? Math.min(clock.time, series.seconds) : null;
  const whole = {
    series,
    size,
    seconds: settings.seconds,
    speed: settings.speed,
    reach,
    tolerance: mount.tolerance ?? null,
    now,
    letters: letters(),
    system,
  };
  paint(section, sectionShapes(whole));
  const times = magnificationOf(whole);
  const word = times ? `edge off grade, heights ${Number(times.toPrecision(2))} : 1` : "edge off grade";
  write(find(`#caption-${name}`), word);
  if (!live || now === null) return;
  const stage = stages[name];
  const width = Math.hypot(mount.blade.right[0] - mount.blade.left[0], mount.blade.right[1] - mount.blade.left[1]);
  const large = Math.min(Math.max(Math.floor(LARGEST_MOVEMENT_PX / (reach * stage.scaleOf(width))), 1), 10);
  const drawn = /** @type {Record<string, [number, number]>} */ (live.drawn);
  stage.draw({ mount, drawn, series, time: now, track: live.used.track, times: large, system, quiz });
  write(find(`#times-${name}`), `${large} : 1`);
  mark(/** @type {Element} */ (find(`#times-${name}`).parentElement), "hidden", large === 1);
}

/** @param {{left: number, right: number}} start */
function sentences(start) {
  const [a, b] = NAMES.map((name) => sides[name]);
  if (!a.live?.summary || !b.live?.summary) return [];
  const begun = start.left !== 0 || start.right !== 0;
  const [one, other] = [a.live, b.live].map((live) => fourOf(live, start));
  if (!one || !other) return [];
  const said = [verdict(one, other, begun, system), together(a.costs, b.costs)];
  return said.filter(Boolean).map((words) => h("p", { key: words }, words));
}

function playing() {
  const scrub = /** @type {HTMLInputElement} */ (find("#scrub"));
  mark(scrub, "max", String(settings.seconds));
  if (Math.abs(scrub.valueAsNumber - clock.time) > 1e-6) scrub.value = String(clock.time);
  const way = settings.speed ? `, ${amount(clock.time * settings.speed, "way", system)}` : "";
  write(find("#now"), `${clock.time.toFixed(1)}\u00a0s${way}`);
  const button = find("[data-action=play]");
  write(button, clock.playing ? "pause" : "start");
  mark(button, "aria-pressed", String(clock.playing));
  press("[data-pace]", "pace", String(clock.pace));
}

/** @param {string} selector @param {string} key @param {string} value */
function press(selector, key, value) {
  for (const button of document.querySelectorAll(selector))
    mark(button, "aria-pressed", String(/** @type {HTMLElement} */ (button).dataset[key] === value));
}

/** @param {string} selector */
function open(selector) {
  return /** @type {HTMLDetailsElement} */ (find(selector)).open;
}

/** Ask for both runs anew. */
function ask() {
  for (const name of NAMES) sides[name].ask(sides[name].mount, worked(settings, mounts.works[name]));
  variants.forget();
  clock.again();
  further();
  keepAddress();
}

let waiting = 0;
/** Ask for what takes longer, once both runs are there. */
function further() {
  clearTimeout(waiting);
  waiting = window.setTimeout(() => {
    if (shown().some(({ state }) => state !== "live")) return further();
    const wanted = shown().filter(({ live }) => live?.summary);
    for (const runner of wanted) if (open("#costs-part") || wanted.length > 1) runner.askFurther("costs");
    for (const runner of wanted) if (open("#best-part")) runner.askFurther("best");
    if (open("#variants-part")) {
      const of = mounts.kept.a ? "a" : "b";
      variants.ask(mounts.kept[of], worked(settings, mounts.works[of]), system);
    }
  }, 300);
}

/** @param {"a"|"b"} name @param {Mount|null} mount */
function put(name, mount) {
  sides[name].mount = mount;
  sides[name].series.step = 0;
  ask();
  measure();
}

function measure() {
  for (const name of NAMES) stages[name].measure();
  plan();
}

let keeping = 0;
/** Keep the address a link to what is shown. */
function keepAddress() {
  clearTimeout(keeping);
  keeping = window.setTimeout(async () => history.replaceState(null, "", await aboard("/run")), 400);
}

/** The address of a page with the mounts and the run on board. @param {string} path */
async function aboard(path) {
  const own = Object.fromEntries(
    shown().map(({ name, mount }) => [name, { mount: /** @type {Mount} */ (mount), command: {} }]),
  );
  return `${await address(path, own, system)}&g=${await pack(settings)}${await mounts.aboard()}`;
}

function picking() {
  for (const name of NAMES) {
    const { mount } = sides[name];
    paint(find(`#mount-${name}`), mounts.choices(name, mount));
    /** @type {HTMLSelectElement} */ (find(`#mount-${name}`)).value = mounts.choice(name, mount);
    const pairs = pairsOf(mount);
    const works = /** @type {HTMLSelectElement} */ (find(`#works-${name}`));
    mark(works, "hidden", pairs.length === 0);
    paint(works, pairChoices(pairs));
    const now = pairs.findIndex((pair) => pair.join() === mounts.works[name]?.join());
    works.value = String(Math.max(now, 0));
  }
}

/** Another mount for a side. @param {"a"|"b"} name @param {string} choice */
async function choose(name, choice) {
  try {
    put(name, await mounts.open(name, choice));
  } catch (error) {
    unopened.splice(0, unopened.length, `It was not opened. ${wrong(error, system)}`);
    plan();
  }
  picking();
}

/** @type {Record<string, () => void|Promise<void>>} */
const ACTIONS = {
  play: () => clock.play(!clock.playing),
  guess: () => {
    quiz = !quiz;
    mark(find("[data-action=guess]"), "aria-pressed", String(quiz));
    document.body.classList.toggle("quiz", quiz);
  },
  wall: () => {
    const large = document.body.classList.toggle("wall");
    mark(find("[data-action=wall]"), "aria-pressed", String(large));
    measure();
  },
  compare: async () => location.assign(await aboard("/compare")),
  handout: async () => location.assign(await aboard("/handout")),
  sketch: async () => {
    const { mount } = sides.a;
    if (mount) location.assign(await address("/", { m: { mount, command: {} } }, system));
  },
};

listenToButtons(
  {
    action: (action) => ACTIONS[action]?.(),
    ready: (name) => {
      const found = ready.find((each) => each.name === name);
      if (!found) return;
      settings = found.run;
      ask();
    },
    variant: (id) => choose("b", mounts.named(id) ? id : `kept:${id}`),
    pace: (pace) => {
      clock.pace = Number(pace);
    },
    system: (next) => {
      system = /** @type {System} */ (next);
      preferUnits(system);
      keepAddress();
    },
  },
  plan,
);

find("#scrub").addEventListener("input", (event) => {
  clock.playing = false;
  clock.seek(/** @type {HTMLInputElement} */ (event.target).valueAsNumber);
});

for (const name of NAMES) {
  const section = find(`#section-${name}`);
  const seek = (/** @type {PointerEvent} */ event) => {
    const box = section.getBoundingClientRect();
    clock.playing = false;
    clock.seek(timeAt(event.clientX - box.left, box.width, settings.seconds, letters()));
  };
  section.addEventListener("pointerdown", (event) => {
    section.setPointerCapture(event.pointerId);
    seek(event);
  });
  section.addEventListener("pointermove", (event) => {
    if (section.hasPointerCapture(event.pointerId)) seek(event);
  });
}

document.addEventListener("change", (event) => {
  const field = /** @type {HTMLInputElement} */ (event.target);
  const name = /** @type {"a"|"b"|undefined} */ (field.dataset.mountOf);
  if (name && field.value !== "own") choose(name, field.value);
  const of = /** @type {"a"|"b"|undefined} */ (field.dataset.worksOf);
  if (of) {
    mounts.works[of] = pairsOf(sides[of].mount)[Number(field.value)] ?? null;
    ask();
  }
  if (field.dataset.setting === undefined) return;
  const next = changedBy(field, settings, system);
  if (!next) return;
  settings = next;
  ask();
});

for (const part of document.querySelectorAll("#variants-part, #costs-part, #best-part"))
  part.addEventListener("toggle", () => {
    further();
    plan();
  });

find("#settings").addEventListener("submit", (event) => event.preventDefault());

document.addEventListener("keydown", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  if (event.ctrlKey || event.metaKey || event.altKey || target.closest("input[type=text], select")) return;
  if (event.key === " ") {
    // The space bar works the button it is on.
    if (target.closest("button, summary")) return;
    event.preventDefault();
    ACTIONS.play();
  } else if (event.key === "g") ACTIONS.guess();
  else if (event.key === "w") ACTIONS.wall();
  plan();
});

async function start() {
  wearTheme();
  await mounts.load();
  ready = /** @type {ReadyRun[]} */ (await answerOf("/run/ready"));
  const aboardParts = parts(location.hash);
  const mine = await brought(aboardParts, unopened);
  const packed = aboardParts.get("g");
  settings = ready[0].run;
  if (packed) {
    try {
      settings = { ...settings, .../** @type {RunSettings} */ (await unpack(packed)) };
      mounts.works = await worksAboard(aboardParts.get("w"));
    } catch (error) {
      unopened.push(/** @type {Error} */ (error).message);
    }
  }
  sides.a.mount = mine.a?.mount ?? mounts.named(FIRST.a);
  sides.b.mount = mine.b?.mount ?? (mine.a ? null : mounts.named(FIRST.b));
  mounts.keptAboard(aboardParts.get("k") ?? (mine.a ? "" : `${FIRST.a},${FIRST.b}`));
  system = systemOf(aboardParts.get("u")) ?? preferredUnits() ?? sides.a.mount?.display ?? "metric";
  picking();
  measure();
  ask();
  new ResizeObserver(measure).observe(find(".stages"));
}

start();
