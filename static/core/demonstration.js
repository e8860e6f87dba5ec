/**
 * The demonstration: a cylinder works through a stroke, the play swings the blade, an end is corrected move by move.
 * Nothing of it is a change to the mount, and the cylinders go back to where they were.
 * @module core/demonstration
 */

import { filled } from "../values/messages.js";
import { cylinders, strokeRange } from "../document/mount.js";
import { own } from "../values/own.js";

/** @typedef {{stroke: number, left: [number, number], right: [number, number]}} Trace */
/** @typedef {{left: number, right: number}} Heights */

/**
 * Where the ends should be, and how many moves were made.
 * @typedef {Object} Correction
 * @property {"left"|"right"} end
 * @property {"turns"|"together"} how
 * @property {number} off mm
 * @property {number} moves
 * @property {Heights|null} grade mm
 * @property {string} words
 * @property {boolean} done
 */

const STILL = matchMedia("(prefers-reduced-motion: reduce)");
const STEPS = 48;
const STEP_MS = 90;
const MOVE_MS = 900;
/** Where nothing should glide: this many steps at once, this far apart. */
const STILL_STEPS = 6;
const STILL_MS = 1200;
const MOST_MOVES = 12;
/** On grade: within this share of how far off it was. */
const SMALL = 0.05;
/** A movement per mm below this is none. */
const NO_MOVE = 1e-6;

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
    this.store.set(({ demo }) => ({ demo: { ...demo, ...change } }));
  }

  /** Work the chosen cylinder through its stroke, or pause. */
  play() {
    if (this.store.state.demo.playing === "stroke") {
      clearTimeout(this.timer);
      this.set({ playing: null });
      return;
    }
    this.begin("stroke");
    if (STILL.matches) this.run(() => this.step(STILL_STEPS), STILL_MS);
    else this.run(() => this.step(), STEP_MS);
  }

  /** One step of the stroke, or several at once. @param {number} [count] */
  step(count = 1) {
    const { state } = this.store;
    const cylinder = cylinders(state.mount).find((/** @type {Cylinder} */ each) => each.id === state.chosen);
    if (!cylinder) return;
    if (!this.rest) this.begin(null);
    if (!state.demo.traces) this.set({ traces: [] });
    const [least, most] = strokeRange(cylinder);
    const rest = own(this.rest, cylinder.id) ?? 0;
    const much = 0.9 * Math.min(most - rest, rest - least, 60);
    this.at += count;
    this.command({ ...this.rest, [cylinder.id]: rest + much * Math.sin((2 * Math.PI * this.at) / STEPS) });
  }

  trace() {
    const { answered, demo, chosen } = this.store.state;
    if (!answered?.pose) return;
    const { left, right } = answered.pose.ends;
    const stroke = own(answered.pose.command, chosen) ?? 0;
    this.set({ traces: [...(demo.traces ?? []), { stroke, left, right }].slice(-3 * STEPS) });
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
   * Bring an end up to a grade that lies three times the tolerance higher, with the cylinders by turns or together.
   * @param {"turns"|"together"} how
   */
  correct(how) {
    this.stop(true);
    const { state } = this.store;
    const { answered, end, mount } = state;
    if (!answered?.actuators) return;
    const off = 3 * (mount.tolerance ?? 3);
    this.begin("correct");
    this.set({
      playing: "correct",
      correction: {
        end,
        how,
        off,
        moves: 0,
        grade: null,
        words: `The grade at the ${end} end lies higher: that end is low.`,
        done: false,
      },
    });
    this.run(() => this.correctOnce(), STILL.matches ? 1800 : MOVE_MS);
  }

  correctOnce() {
    const { answered, demo, asking } = this.store.state;
    const now = demo.correction;
    if (!now || asking || !answered?.actuators) return;
    if (!now.grade) {
      const { left, right } = answered.pose.ends;
      const level = { left: left[1], right: right[1] };
      this.set({ correction: { ...now, grade: { ...level, [now.end]: level[now.end] + now.off } } });
      return;
    }
    const errors = /** @type {Heights} */ (offGrade(now, answered));
    if (Math.max(Math.abs(errors.left), Math.abs(errors.right)) < SMALL * now.off) {
      this.finish(`On grade after ${now.moves} ${now.moves === 1 ? "move" : "moves"}.`);
      return;
    }
    if (answered.pose.stopped) {
      this.finish(`It gets no farther: ${filled(answered.pose.stopped, this.store.state.system)}.`);
      return;
    }
    if (now.moves >= MOST_MOVES) {
      const never = answered.coupling.rounds === null ? ": by turns it never gets there" : "";
      this.finish(`Still off after ${now.moves} moves${never}.`);
      return;
    }
    if (now.how === "together" && !(Object.keys(answered.actuators).length === 1 && alone(answered, now.end)))
      this.together(now, errors, answered);
    else this.byTurns(now, errors, answered);
  }

  /** @param {Correction} now @param {Heights} errors @param {Located} answered */
  together(now, errors, answered) {
    const { moves } = answered.coupling;
    if (!moves) {
      this.finish(`There is no such move: ${filled(answered.absent["coupling.moves"], this.store.state.system)}.`);
      return;
    }
    let { command } = this.store.state;
    for (const end of /** @type {const} */ (["left", "right"])) {
      for (const [name, per] of Object.entries(moves[end]))
        command = { ...command, [name]: (own(command, name) ?? 0) - errors[end] * /** @type {number} */ (per) };
    }
    this.command(command);
    const count = Object.keys(moves[now.end]).length;
    this.set({ correction: { ...now, moves: now.moves + count, words: `${count} cylinders moved together.` } });
  }

  /**
   * The end that is farther off is corrected with the cylinder that moves it most beside the other.
   * @param {Correction} now
   * @param {Heights} errors
   * @param {Located} answered
   */
  byTurns(now, errors, answered) {
    const end = Math.abs(errors.left) > Math.abs(errors.right) ? "left" : "right";
    const other = end === "left" ? "right" : "left";
    const useful = Object.keys(answered.actuators).filter((name) => Math.abs(answered.actuators[name][end]) > NO_MOVE);
    const best = useful.sort(
      (a, b) => share(answered.actuators[b], end, other) - share(answered.actuators[a], end, other),
    )[0];
    if (!best) {
      this.finish(`No cylinder moves the ${end} end: it stays off.`);
      return;
    }
    const gains = answered.actuators[best];
    this.command({
      ...this.store.state.command,
      [best]: (own(this.store.state.command, best) ?? 0) - errors[end] / gains[end],
    });
    const words =
      `${best} brings the ${end} end to grade; the ${other} end ` +
      `${Math.abs(gains[other]) > NO_MOVE ? "moves with it" : "stays"}.`;
    this.set({ correction: { ...now, moves: now.moves + 1, words } });
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
    this.set({
      playing,
      traces: playing === "correct" ? null : (this.store.state.demo.traces ?? []),
      swing: null,
      correction: null,
    });
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
    if (demo.playing || demo.traces || demo.correction || demo.swing !== null)
      this.set({ playing: null, traces: null, correction: null, swing: null });
    if (back && rest) this.command(rest);
  }
}

/**
 * How far the ends stand from grade, mm, + above; null until the grade is set.
 * @param {Correction} correction @param {Readout|null} answered @returns {Heights|null}
 */
export function offGrade({ grade }, answered) {
  const ends = answered?.pose?.ends;
  return grade && ends ? { left: ends.left[1] - grade.left, right: ends.right[1] - grade.right } : null;
}

/** Whether the one cylinder moves this end and leaves the other. @param {Located} answered @param {EndName} end */
function alone(answered, end) {
  const [gains] = Object.values(answered.actuators);
  return Math.abs(gains[end]) > NO_MOVE && Math.abs(gains[end === "left" ? "right" : "left"]) < NO_MOVE;
}

/**
 * How much more a cylinder moves one end than the other.
 * @param {Actuator} gains
 * @param {EndName} end
 * @param {EndName} other
 */
function share(gains, end, other) {
  return Math.abs(gains[end]) / (Math.abs(gains[end]) + Math.abs(gains[other]));
}
