/**
 * Showing the sheet to those who watch along, what they guess, and what a phone that works the wall asks for. Nothing
 * is sent while nobody watches.
 * @module pages/sketch/sharing
 */

import { withSent } from "../../core/guesses.js";
import { write } from "../../core/paint.js";
import { questionOf } from "../../core/questions.js";
import { sumOnWall } from "../../core/sums.js";
import { backward, forward, linesOn, nextWords } from "../../core/wallsteps.js";

/** @typedef {import("../../core/store.js").State} State */
/** @typedef {Pick<import("../../core/questions.js").Question, "words"|"quantity">} Asked */
/**
 * What stands on the wall, for a phone that steps it: what it is, and what the ways on and back bring.
 * @typedef {{now: string, next: string, on: boolean, back: boolean, asks: boolean, lesson: boolean}} Wall
 */
/**
 * @typedef {Pick<State, typeof SHOWN[number]> & Pick<State["demo"], "quiz"|"times">
 *   & {question: Asked|null, wall: Wall|null}} Shown
 */

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

/** What else changes what a phone is told. */
const WALL = /** @type {const} */ (["demo", "lesson"]);

/**
 * What goes out: while the class guesses the mount as it stands, and no answer of its own.
 * @param {State} state @returns {Shown}
 */
export function shownOf(state) {
  const { quiz, times } = state.demo;
  const shown = /** @type {Shown} */ (Object.fromEntries(SHOWN.map((name) => [name, state[name]])));
  const asked = questionOf(state);
  const question = asked && { words: asked.words, quantity: asked.quantity };
  const hidden = quiz ? { readout: poseOf(state.readout), answered: null, detail: null, highlighted: null } : {};
  return { ...shown, ...hidden, quiz, times, question, wall: wallOf(state) };
}

/** What stands on the wall, if the page is one. @param {State} state @returns {Wall|null} */
function wallOf(state) {
  const { demo, lesson } = state;
  if (!demo.wall) return null;
  const { shown, all } = linesOn(state);
  const taught = lesson ? `${lesson.document.title}, step ${lesson.at + 1} of ${lesson.document.steps.length}: ` : "";
  const what = demo.quiz ? "the class is asked" : demo.unveiled ? "the answer" : (sumOnWall(state)?.title ?? "");
  const lines = !demo.quiz && !demo.unveiled && all ? `, line ${shown} of ${all}` : "";
  const further = lesson ? lesson.at < lesson.document.steps.length - 1 : false;
  return {
    now: `${taught}${what}${lines}`,
    next: nextWords(state),
    on: Boolean(forward(state)) || further,
    back: Boolean(backward(state)) || Boolean(lesson?.at),
    asks: !demo.quiz && !lesson,
    lesson: further,
  };
}

/** Where everything stands, and nothing else. @param {Located|null} readout @returns {Located|null} */
function poseOf(readout) {
  if (!readout) return null;
  const { pose, mobility } = readout;
  // any: a drawing alone is made of it, which takes no more.
  return /** @type {any} */ ({ pose, mobility, warnings: [] });
}

/**
 * @param {import("../../core/store.js").Store} store @param {HTMLElement} said where it stands how many watch
 * @param {(step: string) => void} act does what the strip of the wall does
 */
export function share(store, said, act) {
  /** @type {WebSocket|null} */
  let socket = null;
  let watching = 0;
  let waiting = 0;
  /** The newest step that was made; those from before this page are not made again. @type {number|null} */
  let stepped = null;

  const send = () => {
    waiting = 0;
    const { state } = store;
    if (!watching || !state.mount || socket?.readyState !== WebSocket.OPEN) return;
    socket.send(JSON.stringify({ shown: shownOf(state) }));
  };
  const soon = () => {
    waiting ||= window.setTimeout(send, MOST_OFTEN_MS);
  };
  /** @param {number[]} sent */
  const heard = (sent) => {
    const { state } = store;
    const question = state.demo.quiz ? questionOf(state) : null;
    if (!question || (!sent.length && !state.demo.guesses.sent.length)) return;
    store.set({ demo: { ...state.demo, guesses: withSent(state.demo.guesses, question.words, sent) } });
  };

  /** @param {[number, string][]} steps */
  const step = (steps) => {
    const newest = steps.length ? steps[steps.length - 1][0] : 0;
    const from = stepped ?? newest;
    stepped = newest;
    if (store.state.demo.wall) for (const [number, way] of steps) if (number > from) act(way);
  };

  function connect() {
    const opened = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/watch/show`);
    socket = opened;
    opened.addEventListener("message", (event) => {
      const told = JSON.parse(event.data);
      if (told.error) return;
      const more = told.watching > watching;
      watching = told.watching;
      write(said, watching ? `${watching} watching along` : "");
      heard(told.guesses);
      step(told.steps);
      if (more) soon();
    });
    opened.addEventListener("close", () => {
      watching = 0;
      setTimeout(connect, PAUSE_MS);
    });
  }

  store.listen((state, before) => {
    if (watching && [...SHOWN, ...WALL].some((name) => state[name] !== before[name])) soon();
  });
  connect();
}
