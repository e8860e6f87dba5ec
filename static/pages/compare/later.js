/**
 * What takes longer than the pose: both over their travel, and both over the same run. Asked for when the hand rests,
 * once the comparison where they stand is on the page; until then the last ones stay, pale.
 * @module pages/compare/later
 */

import { mark, paint } from "../../core/paint.js";
import { answerOf } from "../../core/server.js";
import { Asking } from "./asking.js";
import { bestShapes } from "./ownbest.js";
import { overShapes } from "./over.js";
import { runsShapes } from "./runs.js";
import { settingsFor } from "./runchoice.js";

/** @typedef {import("./asking.js").Question} Question */

const RESTS_MS = 300;
/** Settings are tried only for a pair that is looked at for longer. */
const STAYS_MS = 900;

/** @typedef {import("../run/mounts.js").Works} Works */
/** @typedef {{a: {mount: Mount}, b: {mount: Mount}, run: RunSettings, works: Works}} RunAsked */

export class Later {
  /** @param {<T extends Element>(selector: string) => T} find @param {() => void} changed */
  constructor(find, changed) {
    this.find = find;
    this.changed = changed;
    /** The run that is asked for; null for that of the correction. @type {RunSettings|null} */
    this.run = null;
    /** The two cylinders that work, of a mount with more. @type {Works} */
    this.works = { a: null, b: null };
    /** @type {ReadyRun[]} */
    this.ready = [];
    /** @type {ComparisonOver|null} */
    this.overFound = null;
    /** @type {RunsCompared|null} */
    this.runsFound = null;
    /** The same with each at its own best too. @type {RunsCompared|null} */
    this.bestFound = null;
    /** @type {Asking<{a: Worked, b: Worked}, ComparisonOver>} */
    this.over = new Asking(
      (question) => answerOf("/compare/travel", question),
      (found) => {
        this.overFound = found;
        changed();
      },
    );
    /** @type {Asking<RunAsked, RunsCompared>} */
    this.runs = new Asking(
      (question) => answerOf("/compare/run", question),
      (found) => {
        this.runsFound = found;
        changed();
      },
    );
    /** @type {Asking<RunAsked, RunsCompared>} */
    this.best = new Asking(
      (question) => answerOf("/compare/run", { ...question, best: true }),
      (found) => {
        this.bestFound = found;
        changed();
      },
    );
    this.wanted = "";
    this.sent = "";
    this.resting = 0;
    this.staying = 0;
  }

  /** The runs that are ready to make, once. */
  async prepare() {
    this.ready = /** @type {ReadyRun[]} */ (await answerOf("/run/ready"));
    this.changed();
  }

  /** The settings of the run that is asked for. @param {import("./wanted.js").Wanted} wanted */
  settings(wanted) {
    return this.run ?? settingsFor(this.ready, "correction", wanted);
  }

  /** @param {string} name of a choice; "own" stays what it is @param {import("./wanted.js").Wanted} wanted */
  choose(name, wanted) {
    if (name !== "own") this.run = name === "correction" ? null : settingsFor(this.ready, name, wanted);
  }

  /** @param {Question} question the newest the pose was compared for */
  want(question) {
    if (!this.ready.length) return;
    const { a, b, ...wanted } = question;
    const run = this.settings(wanted);
    const text = JSON.stringify([a, b, run, this.works]);
    if (text === this.wanted) return;
    this.wanted = text;
    clearTimeout(this.resting);
    clearTimeout(this.staying);
    const driven = { a: { mount: a.mount }, b: { mount: b.mount }, run, works: this.works };
    this.resting = window.setTimeout(() => {
      this.sent = text;
      this.over.want({ a, b });
      this.runs.want(driven);
      this.staying = window.setTimeout(() => this.best.want(driven), STAYS_MS);
    }, RESTS_MS);
  }

  /**
   * @param {{mounts: Mount[], system: System, wanted: import("./wanted.js").Wanted}} shown
   * @param {boolean} steady whether the pose's own comparison is the newest
   */
  show({ mounts, system, wanted }, steady) {
    const [over, runs, best] = ["#over", "#runs", "#best"].map((part) => this.find(part));
    if (this.overFound) paint(over, overShapes({ found: this.overFound, mounts, system }));
    const runShown = { found: this.runsFound, mounts, system, ready: this.ready, run: this.run, wanted };
    if (this.ready.length) paint(runs, runsShapes(runShown));
    if (this.bestFound) paint(best, bestShapes({ found: this.bestFound, mounts, system }));
    const newest = steady && this.wanted !== "" && this.wanted === this.sent;
    mark(over, "data-state", newest && this.over.settled ? "live" : "waiting");
    mark(runs, "data-state", newest && this.runs.settled ? "live" : "waiting");
    mark(best, "data-state", newest && this.best.had === this.runs.had && this.best.settled ? "live" : "waiting");
  }
}
