/**
 * First minutes: a short look at the see-saw and the twin-cylinder mount with one's own hands, and then it is gone.
 * @module core/firstlook
 */

/** @typedef {{mount: Mount}} Began */
/** @typedef {(state: import("./store.js").State, began: Began) => boolean} Done whether a step is done */
/** @typedef {{mount: string, words: string, done: Done}} Look */

/** @type {Look[]} */
export const LOOKS = [
  {
    mount: "1-centre-pivot",
    words: "A blade on a centre pivot. Work its tilt cylinder with the slider at the bottom left and watch both ends.",
    done: (state) => Object.values(state.command).some((move) => Math.abs(move) > 1),
  },
  {
    mount: "1-centre-pivot",
    words:
      "Raise one end and the other drops as far. Now drag the eye of the cylinder further up, away from the " +
      "pivot: the error shrinks.",
    done: (state, began) => state.mount !== began.mount,
  },
  {
    mount: "3-twin-cylinders",
    words:
      "Two upright cylinders. Work the right one: the blade turns about the marked point, and the left end goes " +
      "a sixth as far, the other way.",
    done: (state) => Object.values(state.command).some((move) => Math.abs(move) > 1),
  },
  {
    mount: "3-twin-cylinders",
    words:
      "Drag the lower eye of the left cylinder outward: that point walks with it, and the coupling shrinks. " +
      "Under “Error” the load test reads a dial gauge at each end.",
    done: (state, began) => state.mount !== began.mount,
  },
];

export class FirstLook {
  /** @param {import("./store.js").Store} store @param {(name: string, opened: () => void) => void} openShipped */
  constructor(store, openShipped) {
    this.store = store;
    this.openShipped = openShipped;
    /** What was there when its mount was opened. @type {Began|null} */
    this.began = null;
    store.listen((state) => {
      if (state.look === null || !this.began || state.looked) return;
      if (LOOKS[state.look].done(state, this.began)) this.store.set({ looked: true });
    });
  }

  /** @param {number} look */
  show(look) {
    if (look >= LOOKS.length) {
      this.end();
      return;
    }
    this.began = null;
    // Said at once: what was changed here may have to be kept before the mount is opened.
    this.store.set({ look, looked: false });
    this.openShipped(LOOKS[look].mount, () => {
      this.began = { mount: this.store.state.mount };
    });
  }

  /** Another mount was opened: its look is over. @param {string} name */
  left(name) {
    const { look } = this.store.state;
    if (look !== null && this.began && LOOKS[look].mount !== name) this.end();
  }

  next() {
    this.show((this.store.state.look ?? -1) + 1);
  }

  end() {
    this.began = null;
    this.store.set({ look: null, looked: false, greeted: true });
    remember();
  }
}

function remember() {
  try {
    localStorage.setItem("greeted", "yes");
  } catch {
    // Private windows may refuse to keep it.
  }
}

/** Whether this visitor has been here before. */
export function greeted() {
  try {
    return localStorage.getItem("greeted") === "yes";
  } catch {
    return false;
  }
}
