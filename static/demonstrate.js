/**
 * The demonstration: a cylinder works through a stroke, the play swings the blade, an end is corrected move by move.
 * Nothing of it is a change to the mount, and the cylinders go back to where they were.
 * @module demonstrate
 */

import { cylinders, strokeRange } from "./mount.js";

/**
 * @typedef {{stroke: number, left: [number, number], right: [number, number]}} Trace
 * @typedef {{end: "left"|"right", how: "turns"|"together", off: number, moves: number, errors: {left: number, right: number}, words: string, done: boolean}} Correction
 */

const STILL = matchMedia("(prefers-reduced-motion: reduce)");
const STEPS = 48;
const STEP_MS = 90;
const MOVE_MS = 900;
const MOST_MOVES = 12;

export class Demonstration {
  /** @param {import("./store.js").Store} store @param {import("./editor.js").Editor} editor */
  constructor(store, editor) {
    this.store = store;
    this.editor = editor;
    this.timer = 0;
    /** Where the cylinders were before. @type {Record<string, number>|null} */
    this.rest = null;
    this.at = 0;
    store.listen((state, before) => {
      if (state.mount !== before.mount) this.stop(false);
      else if (state.answered !== before.answered && state.demo.traces && state.answered?.pose) this.trace();
    });
  }

  /** @param {Partial<import("./store.js").Demo>} change */
  set(change) {
    this.store.set({ demo: { ...this.store.state.demo, ...change } });
  }

  /** Work the chosen cylinder through its stroke, or pause. */
  play() {
    if (this.store.state.demo.playing === "stroke") {
      clearTimeout(this.timer);
      this.set({ playing: null });
      return;
    }
    this.begin("stroke");
    this.run(() => this.step(), STEP_MS);
  }

  /** One step of the stroke. */
  step() {
    const { state } = this.store;
    const cylinder = cylinders(state.mount).find((/** @type {any} */ each) => each.id === state.chosen);
    if (!cylinder) return;
    if (!this.rest) this.begin(null);
    if (!state.demo.traces) this.set({ traces: [] });
    const [least, most] = strokeRange(cylinder);
    const rest = this.rest?.[cylinder.id] ?? 0;
    const much = 0.9 * Math.min(most - rest, rest - least, 60);
    this.at += 1;
    this.command({ ...this.rest, [cylinder.id]: rest + much * Math.sin((2 * Math.PI * this.at) / STEPS) });
  }

  trace() {
    const { answered, demo, chosen } = this.store.state;
    const { left, right } = answered.pose.ends;
    const stroke = answered.pose.command[chosen ?? ""] ?? 0;
    this.set({ traces: [.../** @type {Trace[]} */ (demo.traces), { stroke, left, right }].slice(-3 * STEPS) });
  }

  /** Swing the blade from one worst position to the other, or stop. */
  swing() {
    const { demo } = this.store.state;
    if (demo.playing === "slop") {
      clearTimeout(this.timer);
      this.set({ playing: null, swing: null });
      return;
    }
    this.stop(true);
    this.set({ playing: "slop", swing: 1 });
    let phase = Math.PI / 2;
    const move = () => {
      phase += STILL.matches ? Math.PI : 0.12;
      this.set({ swing: Math.sin(phase) });
    };
    this.run(move, STILL.matches ? 2000 : 33);
  }

  /**
   * Bring an end back on grade that is off by three times the tolerance, with the cylinders by turns or together.
   * @param {"turns"|"together"} how
   */
  correct(how) {
    this.stop(true);
    const { state } = this.store;
    const { answered, end, mount } = state;
    if (!answered?.actuators) return;
    const off = 3 * (mount.tolerance ?? 3);
    this.begin("correct");
    const errors = { left: 0, right: 0, [end]: -off };
    this.set({ playing: "correct", correction: { end, how, off, moves: 0, errors, words: `The ${end} end is low.`, done: false } });
    this.run(() => this.correctOnce(), STILL.matches ? 1800 : MOVE_MS);
  }

  correctOnce() {
    const { answered, demo } = this.store.state;
    const now = demo.correction;
    if (!now || !answered?.actuators) return;
    const names = Object.keys(answered.actuators);
    const small = 0.05 * now.off;
    if (Math.max(Math.abs(now.errors.left), Math.abs(now.errors.right)) < small) {
      this.finish(`On grade after ${now.moves} ${now.moves === 1 ? "move" : "moves"}.`);
      return;
    }
    if (now.moves >= MOST_MOVES) {
      this.finish(`Still off after ${now.moves} moves: by turns it does not get there.`);
      return;
    }
    if (now.how === "together") this.together(now, answered);
    else this.byTurns(now, answered, names);
  }

  /** @param {Correction} now @param {any} answered */
  together(now, answered) {
    const { moves } = answered.coupling;
    if (!moves) {
      this.finish("One cylinder cannot bring one end back and leave the other: there is no such move.");
      return;
    }
    const command = { ...this.store.state.command };
    for (const end of /** @type {const} */ (["left", "right"])) {
      for (const [name, per] of Object.entries(moves[end])) command[name] = (command[name] ?? 0) - now.errors[end] * /** @type {number} */ (per);
    }
    this.command(command);
    const count = Object.keys(moves[now.end]).length;
    this.set({ correction: { ...now, moves: now.moves + count, errors: { left: 0, right: 0 }, words: `${count} cylinders moved together.` } });
  }

  /** The end that is farther off is corrected with the cylinder that moves it most beside the other. @param {Correction} now @param {any} answered @param {string[]} names */
  byTurns(now, answered, names) {
    const end = Math.abs(now.errors.left) > Math.abs(now.errors.right) ? "left" : "right";
    const other = end === "left" ? "right" : "left";
    const useful = names.filter((name) => Math.abs(answered.actuators[name][end]) > 1e-6);
    const best = useful.sort((a, b) => share(answered.actuators[b], end, other) - share(answered.actuators[a], end, other))[0];
    if (!best) {
      this.finish(`No cylinder moves the ${end} end: it stays off.`);
      return;
    }
    const gains = answered.actuators[best];
    const by = -now.errors[end] / gains[end];
    const errors = { [end]: 0, [other]: now.errors[other] + by * gains[other] };
    this.command({ ...this.store.state.command, [best]: (this.store.state.command[best] ?? 0) + by });
    const words = `${best} brings the ${end} end back; the ${other} end is now off.`;
    this.set({ correction: { ...now, moves: now.moves + 1, errors: /** @type {any} */ (errors), words } });
  }

  /** @param {string} words */
  finish(words) {
    clearTimeout(this.timer);
    const { correction } = this.store.state.demo;
    this.set({ playing: null, correction: correction && { ...correction, words, done: true } });
  }

  /** @param {Record<string, number>} command */
  command(command) {
    this.store.set({ command });
    this.editor.ask();
  }

  /** @param {"stroke"|"slop"|"correct"|null} playing */
  begin(playing) {
    this.rest ??= { ...this.store.state.command };
    this.set({ playing, traces: playing === "correct" ? null : (this.store.state.demo.traces ?? []), swing: null, correction: null });
  }

  /** @param {() => void} doing @param {number} every ms */
  run(doing, every) {
    clearTimeout(this.timer);
    const { playing } = this.store.state.demo;
    const again = () => {
      if (this.store.state.demo.playing !== playing) return;
      doing();
      this.timer = window.setTimeout(again, every);
    };
    this.timer = window.setTimeout(again, every);
  }

  /** End it, the cylinders back where they were. @param {boolean} back */
  stop(back) {
    clearTimeout(this.timer);
    const { demo } = this.store.state;
    const rest = this.rest;
    this.rest = null;
    this.at = 0;
    if (demo.playing || demo.traces || demo.correction || demo.swing !== null) this.set({ playing: null, traces: null, correction: null, swing: null });
    if (back && rest) this.command(rest);
  }
}

/** How much more a cylinder moves one end than the other. @param {any} gains @param {string} end @param {string} other */
function share(gains, end, other) {
  return Math.abs(gains[end]) / (Math.abs(gains[end]) + Math.abs(gains[other]));
}
