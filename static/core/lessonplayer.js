/**
 * Plays a lesson: each step takes the sheet and the wall, and what moves in it begins once the numbers are there.
 * @module core/lessonplayer
 */

import { mountOf, stepShown, wallOf } from "./lessonsteps.js";

export class LessonPlayer {
  /**
   * @param {import("./store.js").Store} store
   * @param {import("./demonstration.js").Demonstration} demonstration
   * @param {(given: string|Mount, command: Command, opened: () => void) => void} open takes the sheet, once it may
   */
  constructor(store, demonstration, open) {
    this.store = store;
    this.demonstration = demonstration;
    this.open = open;
    /** What moves once the numbers of the step are there. @type {LessonStep["moves"]} */
    this.moves = null;
    store.listen((state, before) => this.heard(state, before));
  }

  /** @param {Lesson} document @param {number} [at] the step it begins with */
  begin(document, at = 0) {
    this.show(document, at);
  }

  /** To another step. @param {number} at */
  go(at) {
    const { lesson } = this.store.state;
    if (lesson && at >= 0 && at < lesson.document.steps.length) this.show(lesson.document, at);
  }

  /** To the step so many on, if there is one. @param {number} by */
  step(by) {
    const { lesson } = this.store.state;
    if (lesson) this.go(lesson.at + by);
  }

  /** The sheet and the wall stay as they are. */
  leave() {
    this.moves = null;
    this.store.set({ lesson: null });
  }

  /** @param {Lesson} document @param {number} at */
  show(document, at) {
    const step = document.steps[at];
    this.demonstration.stop(false);
    this.open(mountOf(step, this.store.state.system), step.command ?? {}, () => {
      this.store.set(({ demo, chosen }) => ({
        lesson: { document, at },
        chosen: step.cylinder ?? chosen,
        end: step.end ?? "right",
        demo: { ...demo, ...wallOf(step) },
      }));
      this.moves = step.moves ?? null;
    });
  }

  /** @param {import("./store.js").State} state @param {import("./store.js").State} before */
  heard(state, before) {
    const step = stepShown(state);
    if (!step || !state.lesson) return;
    if (state.system !== before.system && state.lesson === before.lesson && step.in_inches) {
      this.go(state.lesson.at);
      return;
    }
    const { demo, answered, asking } = state;
    if (!this.moves || !demo.wall || demo.quiz || demo.unveiled || asking || !answered?.actuators) return;
    const { moves } = this;
    this.moves = null;
    if (moves === "stroke") this.demonstration.play();
    else if (moves === "slop") this.demonstration.swing();
    else this.demonstration.correct(moves === "in turn" ? "turns" : "together");
  }
}
