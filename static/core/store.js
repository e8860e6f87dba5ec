/**
 * The state of the page. Whoever shows something listens; whoever changes something says what.
 * @module core/store
 */

import { NO_WISHES } from "../document/wishes.js";
import { vocabulary } from "../values/vocabulary.js";
import { NO_GUESSES } from "./guesses.js";

/** @typedef {readonly [number, number]} Point */

/**
 * What a drawing tool has so far: the first end set, and where the next would go.
 * @typedef {Object} Draft
 * @property {{body: string, at: Point}|null} first
 * @property {Point|null} at
 * @property {string} words
 * @property {string[]} bodies those the next place would be joined to
 * @property {number} [angle] of the construction line that is being set, degrees
 * @property {[number, number][]} [corners] of an outline that is being drawn, mm as drawn
 * @property {import("../document/spans.js").Span} [typed] length and angle that were typed for it
 */
/**
 * An end of a measured distance: a joint by its handle, or a place on a body as drawn.
 * @typedef {{body: string, name: string|null, at: Point|null}} MeasureEnd
 */

/**
 * What the demonstration shows. `swing` is where the play holds the blade, -1 to 1 from one worst position to the
 * other.
 * @typedef {Object} Demo
 * @property {"stroke"|"slop"|"correct"|null} playing
 * @property {import("./demonstration.js").Trace[]|null} traces
 * @property {number|null} swing
 * @property {number} times slop, times life size
 * @property {import("./demonstration.js").Correction|null} correction
 * @property {boolean} quiz the numbers are hidden
 * @property {boolean} unveiled the answer stands among the guesses
 * @property {string|null} question the kind that is asked; null: that of the sum on the wall
 * @property {import("./guesses.js").Guesses} guesses of the class
 * @property {boolean} wall whether the page is the trainer's wall
 * @property {string} board what stands on it
 * @property {number} lines so many lines of its sum are shown
 */

/**
 * @typedef {Object} State
 * @property {Mount} mount the document on the sheet
 * @property {string|null} shipped the shipped mount it came from, null once it was changed
 * @property {Record<string, number>} command mm longer than drawn, by cylinder
 * @property {Located|null} readout the newest readout with numbers, for the picture
 * @property {Readout|null} answered what the numbers on the page stand on; null where they no longer hold
 * @property {import("./server.js").Refusal|null} refusal why the newest edit was refused
 * @property {boolean} asking whether the newest question has no answer yet
 * @property {"live"|"waiting"|"offline"} link
 * @property {boolean} canUndo
 * @property {boolean} canRedo
 * @property {{steps: import("./history.js").Snapshot[], at: number}} history the steps, and the one that is shown
 * @property {boolean} stepsOpen whether their list stands on the sheet
 * @property {string|null} picked name of a handle
 * @property {number|null} dimension the held dimension that is picked
 * @property {import("../document/construction.js").Set} lineSet how the next construction line is set
 * @property {Dimension["way"]} way what the tool would hold between two joints
 * @property {boolean} moving whether the picked thing is being moved by hand
 * @property {string[]} selected handles picked together
 * @property {boolean} several whether picking adds to what is picked
 * @property {boolean} otherEnd whether a typed length or angle moves the other end than the picked one
 * @property {boolean} snap whether what is moved rests on the grid and the guides
 * @property {string|null} copied members that were copied, as text
 * @property {string|null} tool the drawing tool in hand
 * @property {string|null} onto the body the next end is joined to; null: what lies under it
 * @property {Draft|null} draft
 * @property {{from: Point, to: Point}[]} guides snap guides, mm
 * @property {[Point, Point]|null} frame selection frame, pixels
 * @property {[MeasureEnd, MeasureEnd][]} measures pairs of points whose distance is shown
 * @property {boolean} placing whether a tap on the sheet puts the picked thing there
 * @property {string|null} chosen cylinder whose movement is shown
 * @property {string|null} origin the shipped mount or kept id a copy is made from
 * @property {string} kept what to say of keeping
 * @property {{revision: number, mount: Mount, command: Command, older: boolean}|null} clash another tab's state that
 *   mine was not made from; older where a copy from before was put in the library's place
 * @property {boolean} gone whether the file of the library was taken away
 * @property {(() => void)|null} leaving what was asked for and would lose a change that is not kept
 * @property {string|null} message something to say until the next change
 * @property {string|null} done what was done elsewhere than on the sheet, until it is put away
 * @property {number|null} wiggle phase of the shown free motion, radians
 * @property {Record<string, unknown>} drafts typed values that wait for the rest of their group, by place
 * @property {{mount: Mount, answer: Detailed}|null} detail what is asked for once the hand is still
 * @property {import("./working.js").Found|null} working the newest working
 * @property {import("./working.js").Highlight|null} highlighted what a symbol of the working measures, while it is
 *   pointed at
 * @property {import("./travel.js").Found} travel the mount over its strokes, as far as it is there
 * @property {import("./travel.js").Shown} shownTravel what of it is shown
 * @property {{mount: Mount, command: Command, answer: Assemblies|null}|null} assemblies other ways to put it together;
 *   no answer while they are looked for
 * @property {Demo} demo
 * @property {import("./lessonsteps.js").Playing|null} lesson that is played
 * @property {import("./wallrun.js").WallRun|null} wallRun the newest run that was made for the wall
 * @property {number|null} look step of the guided look
 * @property {boolean} looked whether its step is done
 * @property {boolean} greeted whether first hints are over
 * @property {boolean} table whether the table of all members stands under the sheet
 * @property {string|null} seek the step of the working to bring into sight
 * @property {string} tab the open panel of the readout
 * @property {boolean} pressed the spread is that of play pressed as the loads come
 * @property {boolean} offsets show where each joint lies at the true worst
 * @property {boolean} underLoad the budget counts what the load moves
 * @property {boolean} reactions show the forces at the joints
 * @property {boolean} slopes show which way every pivot lowers the worst error
 * @property {{label: string, tolerance: number, source: string}[]} gradings
 * @property {Sizes|null} sizes that cylinders and pins are bought in; null until the server has said them
 * @property {boolean} follow whether a cylinder's closed length follows when an end of it is moved
 * @property {{nominal: number, fits: {fit: string, least: number, greatest: number}[]}|null} fits
 * @property {{served: ("left"|"right")[], met: boolean}|null} reach what became of heights asked of the ends
 * @property {"left"|"right"} end the end to correct
 * @property {System} system
 * @property {number} grid mm
 * @property {import("../values/view.js").View|null} view
 * @property {boolean} ownView whether a hand has moved or scaled the paper since it was last fitted
 * @property {import("../document/wishes.js").Wishes} wishes goals, what is free and what is locked
 * @property {boolean} boxing whether the next rectangle drawn on the sheet is a joint's box
 * @property {import("./goals.js").GoalsAsked|null} goalsAsked the newest reading of the goals
 * @property {import("./suggester.js").SuggestionsAsked|null} suggested the newest suggestions
 * @property {{budget: number, seed: number}} effort how much the next search tries, and its seed
 * @property {import("./searcher.js").Search|null} search the newest search
 * @property {import("./ghosting.js").Ghost|null} ghost another mount shown over this one
 * @property {boolean} allNotices whether all notices are open, not the first alone
 * @property {number} magnification of staffs and ghosts
 * @property {import("./variants.js").VariantsState} variants the mounts that were copied from one another
 */

/**
 * What is to be different, or how it follows from what is there.
 * @typedef {Partial<State>|((state: State) => Partial<State>)} Change
 */

export class Store {
  /** @param {State} state */
  constructor(state) {
    this.state = state;
    /** @type {Set<(state: State, before: State) => void>} */
    this.listeners = new Set();
    /** Changes nobody has heard of yet. @type {Change[]} */
    this.waiting = [];
    this.telling = false;
  }

  /**
   * Change the state and tell everyone. What a listener changes comes after all have heard of what it listens to.
   * @param {Change} change
   */
  set(change) {
    this.waiting.push(change);
    if (this.telling) return;
    this.telling = true;
    try {
      for (let next = this.waiting.shift(); next; next = this.waiting.shift()) {
        const before = this.state;
        this.state = { ...before, ...(typeof next === "function" ? next(before) : next) };
        for (const listener of this.listeners) listener(this.state, before);
      }
    } finally {
      this.telling = false;
    }
  }

  /** @param {(state: State, before: State) => void} listener */
  listen(listener) {
    this.listeners.add(listener);
  }
}

/** No wall, the whole of the first sum on the one that opens, and nothing asked. */
const NO_WALL = { wall: false, board: "ratio", lines: Infinity, unveiled: false, question: null, guesses: NO_GUESSES };

/** What the page starts with. @returns {State} */
export function firstState() {
  return {
    // any: null at first, which no type says; nothing is drawn, asked or changed before the first mount is opened.
    mount: /** @type {any} */ (null),
    shipped: null,
    command: {},
    readout: null,
    answered: null,
    refusal: null,
    asking: false,
    link: "waiting",
    canUndo: false,
    canRedo: false,
    history: { steps: [], at: 0 },
    stepsOpen: false,
    picked: null,
    dimension: null,
    way: "along",
    lineSet: "level",
    moving: false,
    selected: [],
    several: false,
    otherEnd: false,
    snap: true,
    copied: null,
    tool: null,
    onto: null,
    draft: null,
    guides: [],
    frame: null,
    measures: [],
    placing: false,
    chosen: null,
    origin: null,
    kept: "",
    clash: null,
    gone: false,
    leaving: null,
    message: null,
    done: null,
    wiggle: null,
    drafts: {},
    detail: null,
    working: null,
    highlighted: null,
    assemblies: null,
    travel: { plane: null, curve: null, beyond: null },
    shownTravel: { shade: "worst", level: null, upright: null, curve: "worst", over: null },
    lesson: null,
    wallRun: null,
    demo: { playing: null, traces: null, swing: null, times: 40, correction: null, quiz: false, ...NO_WALL },
    look: null,
    looked: false,
    greeted: true,
    table: false,
    seek: null,
    tab: "error",
    underLoad: false,
    offsets: false,
    pressed: false,
    reactions: false,
    slopes: false,
    gradings: [],
    sizes: null,
    follow: false,
    fits: null,
    reach: null,
    end: "right",
    system: "metric",
    grid: 10,
    view: null,
    ownView: false,
    wishes: NO_WISHES,
    boxing: false,
    goalsAsked: null,
    suggested: null,
    effort: { budget: vocabulary.search.usual, seed: 1 },
    search: null,
    ghost: null,
    allNotices: false,
    magnification: 20,
    variants: { open: false, family: [], current: null, ghosts: [], found: {} },
  };
}
