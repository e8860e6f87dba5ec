/**
 * Two mounts side by side: ties two drawings, one command at the ends, the table and the differences together.
 * @module pages/compare
 */

import { answerOf } from "../core/server.js";
import { choicesPart, usualChoices } from "./compare/choices.js";
import { bothFields } from "./compare/both.js";
import { differences, takenOver, withGroupOf } from "./compare/differences.js";
import { EndsBar } from "./compare/endsbar.js";
import { pointsOf } from "./compare/extent.js";
import { Findings } from "./compare/findings.js";
import { differenceList, following, head, sideNotices } from "./compare/heads.js";
import { FIRST, brought, broughtTo, chosenAboard, shippedMounts } from "./compare/opening.js";
import { Keeping, keptPart } from "./compare/keeping.js";
import { alikeMagnification } from "./compare/magnify.js";
import { ownMounts } from "./compare/own.js";
import { Side } from "./compare/side.js";
import { listenToTyping } from "./compare/typing.js";
import { carryFields } from "./compare/widening.js";
import { usual, wantedFields, wantedPart } from "./compare/wanted.js";
import { worksPart } from "./run/mounts.js";
import { listenToButtons } from "../core/clicks.js";
import { oncePerFrame } from "../core/frame.js";
import { address, pack, parts } from "../document/link.js";
import { rememberPair } from "../core/pairing.js";
import { staffRoom } from "../sheet/marks/staff.js";
import { alike } from "../document/places.js";
import { mark, paint, write } from "../core/paint.js";
import { wearTheme } from "../core/theme.js";
import { preferUnits, preferredUnits, systemOf } from "../values/units.js";
import { View, fit } from "../values/view.js";

const NAMES = /** @type {const} */ (["a", "b"]);

/** @template {Element} T @param {string} selector @returns {T} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {T} */ (found);
}

/** @type {{name: string, mount: Mount}[]} */
const shipped = [];
/** The user's own mounts, newest first. @type {{id: string, title: string}[]} */
let own = [];
let view = new View(0.2, 0, 0);
const ends = new EndsBar(find);
/** The correction both are asked for. */
let wanted = usual();
/** What goes along with another blade width. */
let { carry } = usualChoices();
const findings = new Findings(find, () => plan());
/** What was just done, in words. @type {string[]} */
let said = [];
/** What was typed on the handout of this very pair: another pair, or another number, is another customer's. */
let typed = /** @type {import("../document/link.js").Typed|null} */ (null);
let laid = "beside";
/** The side whose joints are taken hold of while they lie over one another. @type {"a"|"b"} */
let hands = "a";

const pair = {
  asked: () => ends.asked,
  view: () => view,
  setView: (/** @type {View} */ next) => {
    view = next;
    for (const name of NAMES) sides[name].store.set({ view });
  },
  onStep: () => {
    said = [];
    if (!keeping.current) typed = null;
    keepAddress();
  },
};
const sides = {
  a: new Side("a", find("#sheet-a"), pair),
  b: new Side("b", find("#sheet-b"), pair),
};
const room = /** @type {HTMLElement} */ (find("#sheet"));
const ready = () => NAMES.every((name) => sides[name].store.state.mount);

const plan = oncePerFrame(() => {
  if (ready()) render();
});
const keeping = new Keeping({
  find,
  document: () => {
    const [a, b] = NAMES.map((name) => question(sides[name]));
    const name = typed?.title.trim() || `${a.mount.title} / ${b.mount.title}`.slice(0, 120);
    const { run, works } = findings.later;
    const [note, worn] = [typed?.note ?? "", findings.worn.to];
    return { format: 1, name, note, a, b, ends: ends.asked, ...wanted, carry, worn, run, works };
  },
  named: (title, note) => {
    typed = { title, note };
    keepAddress();
    plan();
  },
  open: async ({ name, note, a, b, ends: asked, end, rise, carry: along, worn, run, works }, current) => {
    const more = {
      ends: asked,
      typed: { title: name, note },
      wanted: wantedPart({ end, rise }),
      kept: keptPart(current),
      choices: choicesPart({ worn: worn ?? usualChoices().worn, carry: along ?? usualChoices().carry }),
      run: run && (await pack(run)),
    };
    const link = await address("/compare", { a, b }, sides.a.store.state.system, more);
    location.replace(link + (await worksPart({ a: null, b: null, ...works })));
    location.reload();
  },
  link: () => aboard("/compare", false),
  changed: () => keepAddress(),
  system: () => sides.a.store.state.system,
});
for (const name of NAMES) {
  sides[name].store.listen((state, before) => {
    // Numbers are called live only once they are painted; that they wait is said at once.
    if (sides[name].state === "waiting") mark(find(`#side-${name}`), "data-state", "waiting");
    if (state.view !== before.view || state.answered !== before.answered) alikeMagnification([sides.a, sides.b], view);
    plan();
  });
}

function render() {
  for (const name of NAMES) {
    const side = sides[name];
    side.sheet.draw(side.store.state);
    paint(find(`#head-${name}`), head(side, shipped, own));
    paint(find(`#follow-${name}`), following(side, ends.asked));
    paint(find(`#notices-${name}`), sideNotices(side));
  }
  const [a, b] = NAMES.map((name) => sides[name].store.state);
  findings.show(
    { a: question(sides.a), b: question(sides.b), ...wanted },
    {
      steady: NAMES.every((name) => sides[name].store.state.answered && sides[name].state !== "waiting"),
      refused: Boolean(a.refusal || b.refusal),
      system: a.system,
    },
  );
  paint(find("#both"), bothFields(a.mount, b.mount, a.system));
  paint(find("#differences"), differenceList(differences(a.mount, b.mount, a.system), said));
  paint(find("#carry"), carryFields(carry));
  paint(find("#wanted"), wantedFields(wanted, a.system));
  ends.show(a.system);
  write(find("#brand"), typed?.title.trim() || "Two mounts side by side");
  mark(room, "data-laid", laid);
  mark(room, "data-hands", hands);
  press("[data-laid-as]", "laidAs", laid);
  press("[data-hands-on]", "handsOn", hands);
  press("[data-system]", "system", a.system);
  mark(find("#hands"), "hidden", laid === "beside");
  for (const name of NAMES) mark(find(`#side-${name}`), "data-state", sides[name].state);
}

/** @param {string} selector @param {string} key @param {string} value */
function press(selector, key, value) {
  for (const button of document.querySelectorAll(selector))
    mark(button, "aria-pressed", String(/** @type {HTMLElement} */ (button).dataset[key] === value));
}

/** @param {Partial<import("./compare/ends.js").Heights>} change mm */
function ask(change) {
  ends.wish(change);
  for (const name of NAMES) sides[name].follow();
  keepAddress();
  plan();
}

/** The view that shows both mounts with room for staffs and dimensions, at one scale. */
function fitBoth() {
  for (const name of NAMES) sides[name].sheet.measure();
  const points = NAMES.flatMap((name) => pointsOf(sides[name].store.state.mount));
  const { size } = sides.a.sheet;
  const beside = laid === "beside" ? 148 : 320;
  pair.setView(
    fit(points, size, { left: beside, right: beside, top: 30, bottom: Math.max(122, staffRoom(size) + 30) }),
  );
}

/** Keep the address a link to what is shown, so that loading it anew or sending it on shows the same. */
let addressing = 0;
function keepAddress() {
  clearTimeout(addressing);
  addressing = window.setTimeout(async () => {
    history.replaceState(null, "", await aboard("/compare"));
  }, 400);
}

/**
 * @param {string} path @param {boolean} [mine] whether it says which kept one it is: of no use to anybody else
 * @param {RunSettings|null} [run] null for that of the correction
 * @returns {Promise<string>}
 */
async function aboard(path, mine = true, run = findings.later.run) {
  const more = {
    ends: ends.asked,
    typed,
    wanted: wantedPart(wanted),
    kept: mine ? keptPart(keeping.current) : null,
    choices: choicesPart({ worn: findings.worn.to, carry }),
    run: run && (await pack(run)),
  };
  const link = await address(path, { a: question(sides.a), b: question(sides.b) }, sides.a.store.state.system, more);
  return link + (await worksPart(findings.later.works));
}

/** @param {Side} side */
function question(side) {
  const { mount, command } = side.store.state;
  return { mount, command };
}

/** @param {Side} side */
function other(side) {
  return side === sides.a ? sides.b : sides.a;
}

/** @type {Record<string, (side: Side|null) => void|Promise<void>>} */
const ACTIONS = {
  swap: () => {
    const [a, b] = NAMES.map((name) => sides[name].store.state);
    sides.a.open(b.mount, b.shipped, b.command);
    sides.b.open(a.mount, a.shipped, a.command);
    findings.later.works = { a: findings.later.works.b, b: findings.later.works.a };
    said = ["A and B have changed places."];
    keepAddress();
  },
  "take-over": (side) => {
    if (!side) return;
    const { mount, system } = side.store.state;
    const taken = takenOver(other(side).store.state.mount, mount, system);
    const [to, from] = [side.name, other(side).name].map((name) => name.toUpperCase());
    side.editor.change(taken.mount);
    said = taken.changed.length
      ? [`${to} took over the loads of ${from}.`, ...taken.changed]
      : [`Nothing to take over: ${to} carries the same loads as ${from}.`];
    side.store.set({});
  },
  undo: (side) => side?.editor.step(-1),
  sketch: async (side) => {
    if (!side) return;
    rememberPair(side.name, other(side).store.state);
    location.assign(await address("/", { m: question(side) }));
  },
  "sketch-a": () => ACTIONS.sketch(sides.a),
  handout: async () => location.assign(`${await aboard("/handout", true, findings.later.settings(wanted))}&o=1`),
  run: async () => location.assign(await aboard("/run", false, findings.later.settings(wanted))),
  fit: fitBoth,
  level: () => ask({ left: 0, right: 0 }),
  ...keeping.actions,
};

/** @param {Element} target */
function sideOf(target) {
  const name = target.closest("[data-side]")?.getAttribute("data-side");
  return name === "a" || name === "b" ? sides[name] : null;
}

listenToButtons(
  {
    action: (action, button) => ACTIONS[action]?.(sideOf(button)),
    kept: (id) => keeping.open(id),
    putAway: (id) => keeping.putAway(id),
    runChoice: (name) => {
      findings.later.choose(name, wanted);
      keepAddress();
    },
    correct: (end) => {
      wanted = { ...wanted, end: /** @type {EndName} */ (end) };
      keepAddress();
    },
    both: (name, { dataset: { group } }) => group && inBoth(sides[/** @type {"a"|"b"} */ (name)], group),
    mount: (mount, button) => replace(sideOf(button), mount),
    system: (system) => {
      preferUnits(/** @type {System} */ (system));
      for (const name of NAMES) sides[name].store.set({ system: /** @type {System} */ (system) });
      keepAddress();
    },
    handsOn: (name) => {
      hands = /** @type {"a"|"b"} */ (name);
    },
    laidAs: (name) => {
      laid = name;
      mark(room, "data-laid", laid);
      fitBoth();
    },
  },
  plan,
);

/** One group of inputs of a side put into the other too. @param {Side} from @param {string} group */
function inBoth(from, group) {
  const to = other(from);
  to.editor.change(withGroupOf(from.store.state.mount, to.store.state.mount, group));
  fitBoth();
}

/** @param {Side|null} side @param {string} name of a shipped mount */
function replace(side, name) {
  const found = shipped.find((each) => each.name === name);
  if (side && found) putOn(side, found.mount, name);
}

/**
 * @param {Side} side
 * @param {Mount} mount
 * @param {string|null} name of a shipped mount
 * @param {Record<string, number>} [command]
 */
function putOn(side, mount, name, command = {}) {
  side.open(mount, name, command);
  findings.later.works = { ...findings.later.works, [side.name]: null };
  said = keeping.current ? ["This is another comparison now: the kept one stays as it was, and keeps its note."] : [];
  keeping.current = null;
  typed = null;
  fitBoth();
  keepAddress();
}

const chooseOwn = ownMounts(find("#open-file"), {
  put: (side, mount, command) => putOn(side, mount, null, command),
  failed: (words) => {
    said = [words];
    plan();
  },
  system: () => sides.a.store.state.system,
});

listenToTyping({
  wear: (to) => {
    findings.worn.to = Math.max(to, 0);
    keepAddress();
    plan();
  },
  carry: () => carry,
  carrying: (change) => {
    carry = { ...carry, ...change };
    keepAddress();
    plan();
  },
  tell: (words) => {
    said = words;
  },
  sides,
  ask,
  keepAddress,
  want: (change) => {
    wanted = { ...wanted, ...change };
    keepAddress();
    plan();
  },
  own: (side, choice) => chooseOwn(side, choice),
  sideOf,
  changed: () => {
    fitBoth();
    plan();
  },
});

async function start() {
  wearTheme();
  shipped.push(...(await shippedMounts()));
  own = await answerOf("/library").catch(() => []);
  const aboardParts = parts(location.hash);
  const mine = await brought(aboardParts, said);
  const chosen = await chosenAboard(aboardParts, said);
  ends.wish(chosen.ends ?? broughtTo(Object.values(mine)));
  ({ wanted, typed } = chosen);
  ({ carry } = chosen.choices);
  findings.worn.to = chosen.choices.worn;
  Object.assign(findings.later, { run: chosen.run, works: chosen.works });
  keeping.current = chosen.kept;
  const rival = mine.a && shippedAs(mine.a.mount) === FIRST.b ? FIRST.a : FIRST.b;
  const names = { a: FIRST.a, b: mine.a && !mine.b ? rival : FIRST.b };
  for (const name of NAMES) {
    const own = mine[name];
    const first = shipped.find((each) => each.name === names[name]) ?? shipped[0];
    if (own) sides[name].open(own.mount, shippedAs(own.mount), own.command);
    else sides[name].open(first.mount, first.name);
  }
  const system = systemOf(aboardParts.get("u")) ?? preferredUnits() ?? sides.a.store.state.mount.display ?? "metric";
  for (const name of NAMES) sides[name].store.set({ system });
  for (const name of NAMES) find(`#head-${name}`).replaceChildren();
  fitBoth();
  new ResizeObserver(fitBoth).observe(room);
  await findings.later.prepare();
}

/** The shipped mount that a document is, if it is one. @param {Mount} mount */
function shippedAs(mount) {
  return shipped.find((each) => alike(each.mount, mount))?.name ?? null;
}

start().catch(() => {
  find("#head-a").textContent =
    "The server does not answer. Start it again with: blade-mount, then load this page anew.";
});
