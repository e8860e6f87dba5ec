/**
 * Showing the sheet to those who watch along, and what they guess. Nothing is sent while nobody watches.
 * @module pages/sketch/sharing
 */

import { write } from "../../core/paint.js";
import { questionOf } from "../../core/sums.js";
import { amount } from "../../values/units.js";

/** @typedef {import("../../core/store.js").State} State */
/** @typedef {Pick<import("../../core/sums.js").Question, "words"|"quantity">} Asked */
/** @typedef {Pick<State, typeof SHOWN[number]> & Pick<State["demo"], "quiz"|"times"> & {question: Asked|null}} Shown */

const MOST_OFTEN_MS = 120;
const PAUSE_MS = 2000;
const SHOWN = /** @type {const} */ ([
  "mount",
  "readout",
  "answered",
  "detail",
  "command",
  "chosen",
  "system",
  "end",
  "highlighted",
  "magnification",
  "underLoad",
  "reactions",
  "slopes",
  "picked",
]);

/** @param {import("../../core/store.js").Store} store @param {HTMLElement} said where the guesses stand */
export function share(store, said) {
  /** @type {WebSocket|null} */
  let socket = null;
  let watching = 0;
  /** @type {number[]} */
  let guesses = [];
  let waiting = 0;

  const send = () => {
    waiting = 0;
    const { state } = store;
    if (!watching || !state.mount || socket?.readyState !== WebSocket.OPEN) return;
    const shown = Object.fromEntries(SHOWN.map((name) => [name, state[name]]));
    const { quiz, times } = state.demo;
    const asked = questionOf(state);
    const question = asked && { words: asked.words, quantity: asked.quantity };
    socket.send(JSON.stringify({ shown: { ...shown, quiz, times, question } }));
  };
  const soon = () => {
    waiting ||= window.setTimeout(send, MOST_OFTEN_MS);
  };
  const say = () => {
    const { system, demo } = store.state;
    const quantity = questionOf(store.state)?.quantity ?? "error";
    const answers = guesses.map((guess) => amount(guess, quantity, system)).join(", ");
    const asked = demo.quiz ? `; ${guesses.length} answered${answers ? `: ${answers}` : ""}` : "";
    write(said, watching ? `${watching} watching along${asked}` : "");
  };

  function connect() {
    const opened = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/watch/show`);
    socket = opened;
    opened.addEventListener("message", (event) => {
      const told = JSON.parse(event.data);
      if (told.error) return;
      const more = told.watching > watching;
      ({ watching, guesses } = told);
      say();
      if (more) soon();
    });
    opened.addEventListener("close", () => {
      watching = 0;
      setTimeout(connect, PAUSE_MS);
    });
  }

  store.listen((state, before) => {
    if (state.demo.quiz !== before.demo.quiz || state.system !== before.system) say();
    if (watching && [...SHOWN, /** @type {const} */ ("demo")].some((name) => state[name] !== before[name])) soon();
  });
  connect();
}
