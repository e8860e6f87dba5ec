/**
 * The mount over its travel, following the hand on a line of its own. It leaves the machine to the numbers: it is asked
 * for only once those of the moment are painted, and while the hand hurries they have it to themselves for most of the
 * time. What it depends on is what it is known by:
 * a cylinder that is worked along the plane does not change the plane.
 * @module core/travel
 */

import { cylinders } from "../document/mount.js";
import { unpacked } from "../values/travel.js";

/** @typedef {import("./store.js").State} State */
/** @typedef {import("../values/travel.js").Over} Over */

/**
 * @typedef {Object} Found
 * @property {Over|null} plane over both strokes; over the one where there is one cylinder
 * @property {Over|null} curve over one stroke, every layer; while the curves are open, or where there is one cylinder
 * @property {Beyond[]|null} beyond dead centres beyond the strokes, from where the mount stands; null: not known yet
 */
/**
 * @typedef {Object} Shown
 * @property {string} shade the layer the plane is shaded by
 * @property {string|null} level the cylinder along the plane; null: the first
 * @property {string|null} upright the cylinder up the plane; null: the second
 * @property {string} curve the number whose curves are drawn
 * @property {string|null} over the cylinder they are drawn over; null: the one that is chosen, else the first
 */

const PLANE_STEPS = 41;
export const CURVE_STEPS = 101;
const STILL_MS = 250;
const PAUSE_MS = 1500;
/** While the hand hurries so many times as long as one took is left to the numbers before the next is asked for. */
const REST = 8;
/** A hand that has not moved for so long does not hurry. */
const HURRY_MS = 60;

/** @type {Found} */
const NOTHING = { plane: null, curve: null, beyond: null };

/**
 * The cylinders of the plane: along it and up it; one where there is one.
 * @param {Mount} mount @param {Shown} shown
 */
export function axesOf(mount, { level, upright }) {
  const ids = cylinders(mount).map(({ id }) => id);
  const first = level !== null && ids.includes(level) ? level : ids.find((id) => id !== upright);
  const second =
    upright !== null && upright !== first && ids.includes(upright) ? upright : ids.find((id) => id !== first);
  return [first, second].filter((id) => id !== undefined);
}

/** The cylinder whose stroke the curves go over. @param {Pick<State, "mount"|"chosen"|"shownTravel">} state */
export function curveOver({ mount, chosen, shownTravel }) {
  const ids = cylinders(mount).map(({ id }) => id);
  return [shownTravel.over, chosen].find((id) => id !== null && ids.includes(id)) ?? ids[0];
}

/** @typedef {{name: "plane"|"curve"|"beyond", key: unknown[], asked: Omit<TravelLiveQuestion, "seq">}} Wanted */

/**
 * What a state wants to know of the travel, in the order in which it is asked.
 * @param {State} state @param {boolean} still whether the hand is
 * @returns {Wanted[]}
 */
export function wantedFor(state, still) {
  const { mount, command, shownTravel, tab } = state;
  const axes = axesOf(mount, shownTravel);
  if (!axes.length) return [];
  const over = curveOver(state);
  /** @type {Wanted[]} */
  const wanted = [];
  /**
   * @param {Wanted["name"]} name @param {string[]} along @param {number} steps @param {string[]|null} layers
   * @param {string[]|null} told @param {boolean} [beyond]
   */
  const want = (name, along, steps, layers, told, beyond = false) => {
    const others = Object.entries(command).filter(([id]) => beyond || !along.includes(id));
    const key = [mount, JSON.stringify([along, layers, others])];
    wanted.push({ name, key, asked: { mount, command, cylinders: along, steps, layers, told, beyond } });
  };
  if (axes.length > 1)
    want("plane", axes, PLANE_STEPS, ["left", "right", shadeOf(mount, shownTravel.shade)], toldOf(mount));
  if (axes.length === 1 || tab === "travel") want("curve", [over], CURVE_STEPS, null, null);
  if (still) want("beyond", axes, 2, [], [], true);
  return wanted;
}

/** The layers whose worst over the travel stands beside the plane, whatever that is shaded by. @param {Mount} mount */
function toldOf(mount) {
  return ["worst", "load_ratio", ...cylinders(mount).map(({ id }) => `coupling:${id}`)];
}

/** The layer that the plane is shaded by, of those the mount has. @param {Mount} mount @param {string} shade */
export function shadeOf(mount, shade) {
  const loaded = shade === "load_ratio" || shade === "pressure";
  const named = shade.startsWith("coupling:")
    ? cylinders(mount).some(({ id }) => shade === `coupling:${id}`)
    : shade === "residual"
      ? cylinders(mount).length === 2
      : true;
  return named && (!loaded || mount.load) ? shade : "worst";
}

export class TravelLine {
  /** @param {import("./store.js").Store} store @param {string} address of the socket */
  constructor(store, address) {
    this.store = store;
    this.address = address;
    this.seq = 0;
    this.planned = false;
    this.still = false;
    /** When it is asked for again at the earliest, when it was last, and when the hand last moved. */
    this.free = 0;
    this.since = 0;
    this.moved = 0;
    this.resting = 0;
    this.timer = 0;
    /** @type {Wanted|null} */
    this.out = null;
    /** What the newest of each was asked for. @type {Partial<Record<Wanted["name"], unknown[]>>} */
    this.known = {};
    /** @type {WebSocket|null} */
    this.socket = null;
    store.listen((state, before) => this.noticed(state, before));
    this.connect();
  }

  /** @param {State} state @param {State} before */
  noticed(state, before) {
    if (state.mount !== before.mount && before.mount && !isKin(state.mount, before.mount)) {
      this.known = {};
      this.store.set({ travel: NOTHING });
    }
    if (state.mount !== before.mount || state.command !== before.command) {
      this.still = false;
      this.moved = performance.now();
      clearTimeout(this.timer);
      this.timer = window.setTimeout(() => {
        this.still = true;
        this.plan();
      }, STILL_MS);
    }
    const keys = /** @type {const} */ (["answered", "tab", "shownTravel", "chosen"]);
    if (keys.some((key) => state[key] !== before[key])) this.plan();
  }

  /** Ask once what has changed is painted. */
  plan() {
    if (this.planned) return;
    this.planned = true;
    requestAnimationFrame(() =>
      setTimeout(() => {
        this.planned = false;
        this.ask();
      }),
    );
  }

  ask() {
    const { state } = this.store;
    if (this.out || !state.answered?.pose) return;
    const next = wantedFor(state, this.still).find(({ name, key }) => !isSame(this.known[name], key));
    if (!next) return;
    const rest = Math.min(this.free, this.moved + HURRY_MS) - performance.now();
    if (rest > 0) {
      clearTimeout(this.resting);
      this.resting = window.setTimeout(() => this.plan(), rest);
      return;
    }
    if (this.socket?.readyState !== WebSocket.OPEN) {
      this.connect();
      return;
    }
    this.out = next;
    this.since = performance.now();
    this.seq += 1;
    this.socket.send(JSON.stringify({ ...next.asked, seq: this.seq }));
  }

  connect() {
    if (this.socket && this.socket.readyState <= WebSocket.OPEN) return;
    const socket = new WebSocket(this.address);
    socket.binaryType = "arraybuffer";
    this.socket = socket;
    socket.addEventListener("open", () => this.plan());
    socket.addEventListener("message", ({ data }) => this.received(data));
    socket.addEventListener("close", () => {
      this.out = null;
      setTimeout(() => this.plan(), PAUSE_MS);
    });
  }

  /** @param {ArrayBuffer|string} data a block, or why there is none */
  received(data) {
    const { out } = this;
    this.out = null;
    if (!out) return;
    const now = performance.now();
    this.free = now + REST * (now - this.since);
    this.known[out.name] = out.key;
    const { mount, travel } = this.store.state;
    const over = typeof data === "string" ? null : unpacked(data);
    if (isKin(mount, out.asked.mount)) {
      if (out.name === "beyond") this.store.set({ travel: { ...travel, beyond: over?.beyond ?? [] } });
      else this.store.set({ travel: { ...travel, [out.name]: over } });
    }
    this.plan();
  }
}

/** @param {unknown[]|undefined} known @param {unknown[]} key */
function isSame(known, key) {
  return known !== undefined && known.every((each, index) => each === key[index]);
}

/**
 * Whether one is the other, changed by a hand: the same members in the same order.
 * @param {Mount} a @param {Mount} b
 */
function isKin(a, b) {
  return (
    a.members.length === b.members.length &&
    a.members.every((each, index) => each.id === b.members[index].id && each.kind === b.members[index].kind)
  );
}
