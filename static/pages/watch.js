/**
 * Watching along on a phone: the sheet and the numbers of the one who teaches, and a guess while these are hidden.
 * @module pages/watch
 */

import { oncePerFrame } from "../core/frame.js";
import { mark, paint, write } from "../core/paint.js";
import { Store, firstState } from "../core/store.js";
import { wearTheme } from "../core/theme.js";
import { headlines } from "../panels/headlines.js";
import { Sheet } from "../sheet/sheet.js";
import { amount, unit } from "../values/units.js";
import { vocabulary } from "../values/vocabulary.js";

const PAUSE_MS = 1000;

/** @template {Element} [T=HTMLElement] @param {string} selector @returns {T} */
function find(selector) {
  const found = document.querySelector(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return /** @type {T} */ (found);
}

const sheet = new Sheet(find("#sheet"));
const store = new Store(firstState());
/** What the class is asked. @type {import("./sketch/sharing.js").Asked} */
let asked = { words: "How far out can the edge be?", quantity: "error" };
/** What stands on the wall, where this phone may step it. @type {import("./sketch/sharing.js").Wall|null} */
let wall = null;
/** @type {WebSocket|null} */
let socket = null;

const plan = oncePerFrame(() => {
  const { state } = store;
  if (!state.mount) return;
  sheet.draw(state);
  paint(find("#headlines"), headlines(state));
  write(find("#mount-title"), state.mount.title);
  write(find("#asked"), asked.words);
  write(find("#guess-unit"), unit(asked.quantity, state.system));
  document.body.classList.toggle("quiz", state.demo.quiz);
  mark(find("#guess"), "hidden", !state.demo.quiz);
  showRemote();
  mark(find("#readout"), "hidden", state.demo.quiz);
  mark(find("#readout"), "data-state", state.link === "live" ? "live" : "offline");
  write(
    find("#line"),
    state.link === "live" ? "Following the sheet; nothing here changes it." : "The line is lost; trying again.",
  );
});
store.listen(plan);

/** The ways on and back, while there is a wall and this phone may step it. */
function showRemote() {
  const remote = document.querySelector("#remote");
  if (!remote) return;
  mark(remote, "hidden", !wall || store.state.link !== "live");
  if (!wall) return;
  write(find("#remote-now"), wall.now);
  write(find("#remote-next"), wall.next);
  mark(find("#remote-next"), "disabled", !wall.on);
  mark(find('#remote [data-step="back"]'), "disabled", !wall.back);
  mark(find("#remote-quiz"), "hidden", !wall.asks);
  mark(find("#remote-step"), "hidden", !wall.lesson);
}

document.addEventListener("click", ({ target }) => {
  const { step } = target instanceof HTMLElement ? target.dataset : {};
  if (step && socket?.readyState === WebSocket.OPEN) socket.send(JSON.stringify({ step }));
});

/** @param {import("./sketch/sharing.js").Shown|null} shown what the page that shows sends */
function follow(shown) {
  if (!shown) return;
  const { demo } = store.state;
  const { quiz, times, question, wall: stands, ...rest } = shown;
  wall = stands;
  if (quiz && (!demo.quiz || question?.words !== asked.words)) write(find("#guess-said"), "");
  asked = question ?? asked;
  const fitted = sheet.fitted(shown.mount);
  store.set({ ...rest, view: fitted, link: "live", demo: { ...demo, quiz, times } });
}

function connect() {
  const opened = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/watch/live`);
  socket = opened;
  opened.addEventListener("message", (event) => follow(JSON.parse(event.data).shown));
  opened.addEventListener("close", () => {
    store.set({ link: "offline" });
    setTimeout(connect, PAUSE_MS);
  });
}

find("#guess").addEventListener("submit", (event) => {
  event.preventDefault();
  const { system } = store.state;
  const { value } = /** @type {HTMLInputElement} */ (find("#guessed"));
  const typed = Number(value.trim().replace(",", "."));
  if (!Number.isFinite(typed) || socket?.readyState !== WebSocket.OPEN) {
    write(find("#guess-said"), "That is no number that can be sent; give one such as 2.5.");
    return;
  }
  const guess = typed * vocabulary.quantities[asked.quantity][system].factor;
  socket.send(JSON.stringify({ guess }));
  write(
    find("#guess-said"),
    `Sent: ${amount(guess, asked.quantity, system)}. You may change it until the numbers are shown.`,
  );
});

wearTheme();
sheet.measure();
new ResizeObserver(() => {
  sheet.measure();
  if (store.state.mount) store.set({ view: sheet.fitted(store.state.mount) });
}).observe(sheet.svg);
connect();
