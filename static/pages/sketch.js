/**
 * The page: starts with a working mount and ties gestures, sheet, panels, library and server together.
 * @module pages/sketch
 */

import { listenToButtons, byName } from "../core/clicks.js";
import { Refused, answerOf, asked, said } from "../core/server.js";
import { Demonstration } from "../core/demonstration.js";
import { LessonPlayer } from "../core/lessonplayer.js";
import { Detail } from "../core/detail.js";
import { listen } from "../sheet/gestures.js";
import { Drafter } from "../sheet/drafter.js";
import { Editor } from "../core/editor.js";
import { withoutHeld } from "../document/dimensions.js";
import { readDocument } from "../document/files.js";
import { prefersFollowing } from "../document/lengths.js";
import { listenToForms, offerGrids } from "./sketch/forms.js";
import { Autosave, lastKept } from "../core/autosave.js";
import { jointGestures } from "../sheet/jointgestures.js";
import { listenToKeys } from "./sketch/keys.js";
import { keyOf, parts, unpackMount } from "../document/link.js";
import { Live } from "../core/live.js";
import { FirstLook, greeted } from "../core/firstlook.js";
import { actions, buttons } from "./sketch/actions.js";
import { showing } from "./sketch/actions/showing.js";
import { boxed } from "./sketch/boxing.js";
import { framed } from "./sketch/framing.js";
import { listenToFront } from "./sketch/fronthand.js";
import { listenToEdge } from "./sketch/edge.js";
import { lessonDesk } from "./sketch/lessondesk.js";
import { followMagnification } from "../sheet/magnification.js";
import { share } from "./sketch/sharing.js";
import { listenToPlane } from "./sketch/planehand.js";
import { listenToClipboard } from "./sketch/clipboard.js";
import { listenToCells } from "./sketch/tablecells.js";
import { listenToSpan } from "./sketch/spanentry.js";
import { listenToSteps } from "./sketch/steplist.js";
import { showPage } from "./sketch/show.js";
import { Sheet } from "../sheet/sheet.js";
import { LibraryDialog } from "../panels/library.js";
import { faultWords } from "../panels/notices.js";
import { Store, firstState } from "../core/store.js";
import { TravelLine } from "../core/travel.js";
import { wearTheme } from "../core/theme.js";
import { readoutWords } from "../values/words.js";
import { Variants } from "../core/variants.js";
import { Working } from "../core/working.js";
import { Ghosting } from "../core/ghosting.js";
import { GoalReader } from "../core/goals.js";
import { RunOnWall } from "../core/wallrun.js";
import { Searcher } from "../core/searcher.js";
import { Suggester } from "../core/suggester.js";
import { keepWishes } from "../core/wishes.js";

const FIRST = "3-twin-cylinders";
const OPENED_BEFORE =
  "This link was opened here before, and the mount was changed since: here it is as it was left. " +
  "The earlier versions have it as it came.";

/** @template {Element} T @param {string} selector @returns {T} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {T} */ (found);
}

/** @type {{name: string, mount: Mount}[]} */
const shipped = [];
const sheet = new Sheet(find("#sheet"));
const store = new Store(firstState());
const lines = `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}`;
const live = new Live(
  `${lines}/live`,
  (answer, question, newest) => editor.answered(answer, question, newest),
  (link) => link !== store.state.link && store.set({ link }),
);
const editor = new Editor(store, live, (mount) => sheet.fitted(mount));
const drafter = new Drafter(store, editor, sheet);
const autosave = new Autosave(store, editor);
new Detail(store);
new Working(store, find("#panel"));
keepWishes(store, editor, autosave);
new GoalReader(store);
new RunOnWall(store);
new Suggester(store);
const grid = /** @type {HTMLSelectElement} */ (find("#grid"));
const library = new LibraryDialog(find("#library"), {
  open: (id) =>
    new Promise((done) => {
      leaveFor(() => autosave.open(id).then(done));
    }),
  show: (mount, command) => {
    editor.begin();
    store.set({ command });
    editor.show(mount);
    editor.finish();
  },
  words: (readout) => readoutWords(readout, store.state.system),
  current: () => (autosave.id ? { id: autosave.id, mount: store.state.mount } : null),
  change: async (make) => {
    const fault = await editor.offer(make);
    return fault && faultWords(store.state, fault);
  },
  shipped: (name) => shipped.find((each) => each.name === name)?.mount.title ?? null,
  said: (error) => said(error, store.state.system),
});
const demonstration = new Demonstration(store, editor);
const lessons = new LessonPlayer(store, demonstration, openForLesson);
const lessonRoom = lessonDesk(store, lessons, shipped, find);
const variants = new Variants(store, {
  shipped,
  current: () => autosave.id ?? store.state.shipped,
  openings: () => editor.openings,
  leaveFor,
  open: (id) => autosave.open(id, true),
  openShipped: (name) => openShipped(name, undefined, true),
  failed: (error) => store.set({ message: said(error, store.state.system) }),
});
const firstLook = new FirstLook(store, openShipped);
followMagnification(store, sheet);
showPage(store, sheet, shipped);
new TravelLine(store, `${lines}/travel/live`);
const desk = {
  store,
  editor,
  drafter,
  autosave,
  library,
  sheet,
  demonstration,
  firstLook,
  lessons,
  lessonRoom,
  ghosting: new Ghosting(store),
  searcher: new Searcher(store),
  variants,
  openShipped,
  openDocument,
  clipboard: listenToClipboard(store, editor),
  fillDown: listenToCells(store, editor),
  setEnd: listenToSpan(store, drafter, sheet.svg),
  find,
};
const act = byName(actions(desk));
listenToButtons(buttons(desk, act));
listenToForms(store, editor);
listenToPlane(store, editor);
listenToKeys(store, drafter, act, byName(showing(desk)));
listenToEdge(find("#edge"));
listenToFront(find("#panel"));
listenToSteps(store, find("#steps-room"));

listen(sheet, {
  ...jointGestures(store, editor),
  tool: () => store.state.tool,
  onOver: (at, free) => drafter.over(at, free),
  onSet: () => drafter.set(),
  onCross: (dx, dy) => drafter.nudge(dx, dy),
  boxing: () => store.state.boxing,
  onFrame: (frame, done) => {
    if (!done) store.set({ frame });
    else if (store.state.boxing) boxed(store, frame);
    else framed(store, frame);
  },
  onPan: (dx, dy) => store.set({ view: store.state.view?.shifted(dx, dy) ?? null, ownView: true }),
  onZoom: (at, factor) => store.set({ view: store.state.view?.zoomed(at, factor) ?? null, ownView: true }),
  onDelete: () => act("delete"),
  onBack: () => drafter.back(),
  onReach: (name) => drafter.reach(name),
  onRelease: (index) => editor.change(withoutHeld(store.state.mount, index)),
  onOpen: () =>
    requestAnimationFrame(() =>
      /** @type {HTMLInputElement|null} */ (document.querySelector("#picked input"))?.select(),
    ),
});

store.listen((state, before) => {
  if (state.system !== before.system) store.set({ grid: offerGrids(grid, state.system) });
});

/** What a screen reader is told once the numbers settle. */
let settle = 0;
store.listen((state, before) => {
  if (state.answered === before.answered && state.system === before.system) return;
  if (state.system !== before.system) find("#spoken").textContent = "";
  clearTimeout(settle);
  settle = window.setTimeout(() => {
    const answer = store.state.answered;
    if (!answer || store.state.demo.quiz) return;
    find("#spoken").textContent = readoutWords(answer, state.system).join("; ");
  }, 900);
});

/** What takes another mount on the sheet, once the last change here has been kept. @type {(() => void)|null} */
let next = null;

/**
 * Do what takes another mount on the sheet. What is being typed here is done first, and kept; if that cannot be, and
 * would be lost, ask first.
 * @param {() => void} then
 */
function leaveFor(then) {
  if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur();
  next = then;
  leave();
}

function leave() {
  if (!next || editor.offered || autosave.underway) return;
  const then = next;
  next = null;
  if (autosave.unkept) store.set({ leaving: then });
  else then();
}

store.listen(() => next && queueMicrotask(leave));

/**
 * @param {string} name of a shipped mount @param {() => void} [opened] done once it is on the sheet
 * @param {boolean} [keepView] seen from where the one before is
 */
function openShipped(name, opened, keepView = false) {
  const found = shipped.find((each) => each.name === name);
  if (!found) return;
  leaveFor(() => {
    autosave.forget();
    firstLook.left(name);
    history.replaceState(null, "", `#n=${name}`);
    store.set({ origin: name, message: null });
    editor.open(found.mount, { shipped: name, keepView });
    opened?.();
  });
}

/**
 * The mount of a lesson's step, shown in the units of the page; the first change of it makes a copy in the library.
 * @param {string|Mount} given @param {Command} command @param {() => void} opened
 */
function openForLesson(given, command, opened) {
  const found = shipped.find((each) => each.name === given);
  leaveFor(() => {
    autosave.forget();
    store.set({ origin: found?.name ?? null, message: null });
    editor.ownUnits = false;
    editor.open(found?.mount ?? /** @type {Mount} */ (given), { shipped: found?.name ?? null, command });
    editor.ownUnits = true;
    opened();
  });
}

/**
 * A document from outside: asked of the server before it takes the sheet.
 * @param {Mount} mount @param {Command} [command]
 */
async function openDocument(mount, command = {}) {
  await asked("/readout", { mount, command });
  leaveFor(() => putOn(mount, command));
}

/** Onto the sheet, and into the library as a new mount. @param {Mount} mount @param {Command} command */
function putOn(mount, command) {
  autosave.forget();
  store.set({ origin: null, message: null });
  editor.open(mount, { command });
  autosave.step();
}

/**
 * A mount that a link brought: the one of the library that came of this link before, or a new one.
 * @param {Worked} carried
 */
async function openLinked({ mount, command }) {
  await asked("/readout", { mount, command });
  leaveFor(async () => {
    const { openings } = editor;
    const kept = await keptOf({ mount, command }).catch(() => null);
    if (openings !== editor.openings) return;
    if (kept && (await autosave.open(kept.id)))
      store.set({ origin: null, message: autosave.revision > kept.revision ? OPENED_BEFORE : null });
    else putOn(mount, command);
  });
}

/**
 * What a link brought, in the library from then on and not among the deleted.
 * @param {Worked} carried @returns {Promise<{id: string, revision: number}>} its revision as the link had it
 */
async function keptOf(carried) {
  const answer = await asked("/library", { ...carried, key: keyOf(carried) });
  /** @type {{id: string, revision: number}} */
  const kept = await answer.json();
  await answerOf(`/library/${kept.id}/restore`, undefined, { method: "POST" });
  return kept;
}

// A file let go of anywhere is meant for the sheet; the browser must not leave the page for it.
addEventListener("dragover", (event) => event.preventDefault());
addEventListener("drop", async (event) => {
  event.preventDefault();
  const file = event.dataTransfer?.files[0];
  if (file) await opened(() => readDocument(file).then((mount) => openDocument(mount)));
});
/** @type {HTMLInputElement} */ (find("#open-file")).addEventListener("change", async (event) => {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  input.value = "";
  if (file) await opened(() => readDocument(file).then((mount) => openDocument(mount)));
});

/** @param {() => Promise<void>} opening */
async function opened(opening) {
  try {
    await opening();
  } catch (error) {
    const opening = error instanceof Refused ? "It was not opened. " : "";
    store.set({ message: opening + said(error, store.state.system) });
  }
}

/**
 * Open what an address names.
 * @param {Map<string, string>} aboard its parts
 * @returns {Promise<boolean>} whether it names anything
 */
async function openAboard(aboard) {
  const packed = aboard.get("m");
  if (packed) {
    if (!store.state.mount) openShipped(FIRST);
    history.replaceState(null, "", location.pathname);
    await opened(async () => {
      await openLinked(await unpackMount(packed));
    });
    return true;
  }
  const lesson = aboard.get("lesson");
  if (lesson) {
    if (!store.state.mount) openShipped(FIRST);
    await lessonRoom.open(lesson);
    return true;
  }
  const name = aboard.get("n");
  if (!name || !shipped.some((each) => each.name === name)) return false;
  openShipped(name);
  return true;
}

addEventListener("hashchange", () => openAboard(parts(location.hash)));

/** Open what the address or the last visit names, else the first shipped mount. */
async function openFirst() {
  const aboard = parts(location.hash);
  if (await openAboard(aboard)) return;
  const kept = aboard.get("k") ?? lastKept();
  if (kept && /^[0-9a-f]{8,64}$/.test(kept) && (await autosave.open(kept))) return;
  if (await autosave.openDraft()) return;
  openShipped(shipped.some((each) => each.name === FIRST) ? FIRST : shipped[0].name);
}

async function start() {
  wearTheme();
  store.set({ grid: offerGrids(grid, "metric") });
  const [list, gradings, sizes] = await Promise.all([answerOf("/scenarios"), answerOf("/presets"), answerOf("/sizes")]);
  shipped.push(
    ...(await Promise.all(
      list.map(async (/** @type {ShippedMount} */ each) => ({
        name: each.name,
        mount: await answerOf(`/scenarios/${each.name}`),
      })),
    )),
  );
  store.set({ gradings, sizes, follow: prefersFollowing(), greeted: greeted() });
  sheet.measure();
  await openFirst();
  new ResizeObserver(() => {
    const before = { ...sheet.size, ...sheet.corner };
    const { view, ownView, mount } = store.state;
    sheet.measure();
    if (view && (before.width !== sheet.size.width || before.height !== sheet.size.height))
      store.set({ view: ownView || sheet.held ? sheet.kept(view, before) : sheet.fitted(mount) });
  }).observe(sheet.svg);
}

if ("shown" in document.body.dataset) share(store, find("#watching"), byName(showing(desk)));

start().catch(() => {
  find("#mount-title").textContent = "The server does not answer";
  find("#mount-note").textContent = "Start it again with: blade-mount, then load this page anew.";
});
