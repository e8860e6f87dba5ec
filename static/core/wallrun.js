/**
 * A grading run of the mount on the wall: made when the run is asked to stand there and the hand is still.
 * @module core/wallrun
 */

import { answerOf, said } from "./server.js";

const STILL_MS = 150;

/**
 * A mount with its run and what was set for it, or why there is none.
 * @typedef {{mount: Mount, settings: RunSettings|null, ran: Ran|null, why: string}} WallRun
 */

export class RunOnWall {
  /** @param {import("./store.js").Store} store */
  constructor(store) {
    this.store = store;
    this.timer = 0;
    store.listen((state, before) => {
      const { demo, mount, wallRun } = state;
      if (!demo.wall || demo.board !== "run" || demo.quiz || !mount || wallRun?.mount === mount) return;
      if (mount === before.mount && this.timer) return;
      clearTimeout(this.timer);
      this.timer = window.setTimeout(() => this.make(), STILL_MS);
    });
  }

  async make() {
    this.timer = 0;
    const { mount, system } = this.store.state;
    try {
      // The first that is ready: one end off grade on level ground, the other not.
      const [{ run }] = /** @type {ReadyRun[]} */ (await answerOf("/run/ready"));
      const ran = /** @type {Ran} */ (await answerOf("/run", { mount, run }));
      this.keep({ mount, settings: run, ran, why: "" });
    } catch (error) {
      this.keep({ mount, settings: null, ran: null, why: said(error, system) });
    }
  }

  /** Unless another mount is there by now. @param {WallRun} wallRun */
  keep(wallRun) {
    if (this.store.state.mount === wallRun.mount) this.store.set({ wallRun });
  }
}
