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
  mark(find("#readout"), "hidden", state.demo.quiz);
  mark(find("#readout"), "data-state", state.link === "live" ? "live" : "offline");
  write(
    find("#line"),
    state.link === "live" ? "Following the sheet; nothing here changes it." : "The line is lost; trying again.",
  );
});
store.listen(plan);

/** @param {import("./sketch/sharing.js").Shown|null} shown what the page that shows sends */
function follow(shown) {
  if (!shown) return;
  const { demo } = store.state;
  const { quiz, times, question, ...rest } = shown;
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
