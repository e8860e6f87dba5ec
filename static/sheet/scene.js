/**
 * Everything a renderer needs to draw one state of the sheet.
 * @module sheet/scene
 */

import { litByWall } from "../core/sums.js";
import { NO_WISHES } from "../document/wishes.js";
import { hues } from "../document/mount.js";
import { standing } from "../values/placed.js";
import { own } from "../values/own.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {import("../values/placed.js").Standing} Placed */

/**
 * Another variant of the mount, where it stands.
 * @typedef {Object} VariantGhost
 * @property {string} id
 * @property {string} title
 * @property {Mount} mount
 * @property {(body: string, at: Point) => [number, number]} place mm as drawn to pixels as it stands
 */

/**
 * @typedef {Object} Scene
 * @property {Mount} mount
 * @property {Located|null} readout newest readout with numbers
 * @property {Readout|null} numbers readout whose numbers hold
 * @property {import("../values/view.js").View} view
 * @property {{width: number, height: number}} size
 * @property {System} system
 * @property {Map<string, number>} hues
 * @property {string|null} chosen
 * @property {string|null} picked
 * @property {number|null} dimension the held dimension that is picked
 * @property {boolean} moving whether the picked thing is being moved by hand
 * @property {boolean} placing
 * @property {Set<string>} marked members to mark as the trouble
 * @property {number} magnification
 * @property {number} grid
 * @property {import("../core/store.js").Draft|null} draft
 * @property {string|null} tool
 * @property {{from: Point, to: Point}[]} guides
 * @property {[Point, Point]|null} frame
 * @property {import("../core/store.js").State["measures"]} measures
 * @property {string[]} selected
 * @property {import("../core/demonstration.js").Trace[]|null} traces
 * @property {boolean} quiz
 * @property {{left: number, right: number}|null} grade heights the ends should come to, mm, while one is corrected
 * @property {boolean} reactions
 * @property {boolean} slopes
 * @property {boolean} offsets
 * @property {import("../document/wishes.js").Wishes} wishes what is free and locked, while that is looked at
 * @property {{mount: Mount, place: (body: string, at: Point) => [number, number]}|null} ghost another mount shown over
 *   this one, and its mm as drawn to pixels as it stands
 * @property {Detailed|null} detail
 * @property {import("../core/working.js").Highlight|null} highlighted
 * @property {VariantGhost[]} variants other variants of the mount, shown as ghosts
 * @property {(body: string, at: Point) => [number, number]} stand mm as drawn to mm as it stands
 * @property {(body: string, at: Point) => [number, number]} place mm as drawn to pixels as it stands
 * @property {(at: Point) => [number, number]} pixel mm as it stands to pixels
 */

/**
 * @param {import("../core/store.js").State} state
 * @param {{width: number, height: number}} size
 * @returns {Scene}
 */
export function sceneOf(state, size) {
  const view = /** @type {import("../values/view.js").View} */ (state.view);
  /** @type {Record<string, Placed>} */
  const bodies = swung(state) ?? slack(state) ?? state.readout?.pose?.bodies ?? {};
  /** @type {(body: string, at: Point) => [number, number]} */
  const stand = (body, at) => standing(at, body === "frame" ? undefined : own(bodies, body));
  return {
    mount: state.mount,
    readout: state.readout,
    numbers: state.answered,
    view,
    size,
    system: state.system,
    hues: hues(state.mount),
    chosen: state.chosen,
    picked: state.picked,
    dimension: state.dimension,
    moving: state.moving,
    placing: state.placing,
    marked: markedIn(state),
    magnification: state.magnification,
    grid: state.grid,
    draft: state.draft,
    tool: state.tool,
    guides: state.guides,
    frame: state.frame,
    measures: state.measures,
    selected: state.selected,
    traces: state.demo.traces,
    quiz: state.demo.quiz,
    grade: state.demo.correction?.grade ?? null,
    reactions: state.reactions,
    slopes: state.slopes,
    offsets: state.offsets,
    detail: state.detail && state.detail.mount === state.mount ? state.detail.answer : null,
    highlighted: state.highlighted ?? litByWall(state),
    wishes: state.tab === "improve" ? state.wishes : NO_WISHES,
    ghost: state.ghost && {
      mount: state.ghost.mount,
      place: (body, at) => view.apply(standing(at, own(state.ghost?.readout?.pose?.bodies, body))),
    },
    variants: [...variantsIn(state, view), ...assembliesIn(state, view)],
    stand,
    place: (body, at) => view.apply(stand(body, at)),
    pixel: (at) => view.apply(at),
  };
}

/**
 * The other variants that are shown as ghosts, as far as they are known.
 * @param {import("../core/store.js").State} state @param {import("../values/view.js").View} view
 * @returns {VariantGhost[]}
 */
function variantsIn({ variants: { family, ghosts, current, found } }, view) {
  return family.flatMap(({ id, title }) => {
    const known = id !== current && ghosts.includes(id) ? own(found, id) : undefined;
    if (!known) return [];
    const bodies = known.readout?.pose?.bodies;
    /** @type {VariantGhost["place"]} */
    const place = (body, at) => view.apply(standing(at, body === "frame" ? undefined : own(bodies, body)));
    return [{ id, title, mount: known.mount, place }];
  });
}

/**
 * Other ways to put the same lengths together, while they are shown and hold.
 * @param {import("../core/store.js").State} state @param {import("../values/view.js").View} view
 * @returns {VariantGhost[]}
 */
function assembliesIn({ assemblies: found, mount, command }, view) {
  if (!found?.answer || found.mount !== mount || found.command !== command) return [];
  return found.answer.others.map(({ bodies }, index) => ({
    id: `assembly ${index + 2}`,
    title: `way ${index + 2}`,
    mount,
    place: (body, at) => view.apply(standing(at, body === "frame" ? undefined : own(bodies, body))),
  }));
}

const SWING_MM = 60;

/**
 * How the mount can still move, or would give way at a dead centre.
 * @param {import("../core/store.js").State} state
 */
export function motionsOf({ answered }) {
  if (answered?.mobility.motion.length) return answered.mobility.motion;
  return answered?.pose?.yielding ? [answered.pose.yielding] : [];
}

/**
 * Bodies displaced along what can still move, while it is being shown, from where they stand.
 * @param {import("../core/store.js").State} state
 * @returns {Record<string, Placed>|null}
 */
function swung(state) {
  const motions = motionsOf(state);
  if (state.wiggle === null || !motions.length) return null;
  // One free motion after the other, two swings each.
  const motion = motions[Math.floor(state.wiggle / (4 * Math.PI)) % motions.length];
  const much = SWING_MM * Math.sin(state.wiggle);
  return Object.fromEntries(
    Object.entries(motion).map(([body, each]) => {
      const from = own(state.answered?.pose?.bodies, body) ?? { at: each.at, angle: 0 };
      const at = /** @type {[number, number]} */ ([0, 1].map((axis) => from.at[axis] + much * each.shift[axis]));
      return [body, { drawn: each.at, at, angle: from.angle + much * each.turn }];
    }),
  );
}

/**
 * The blade between the positions in which play alone brings its worse end farthest, many times life size.
 * @param {import("../core/store.js").State} state
 * @returns {Record<string, Placed>|null}
 */
function slack(state) {
  const { swing, times } = state.demo;
  const bodies = state.readout?.pose?.bodies;
  const budget = state.answered?.budget;
  if (swing === null || !bodies || !budget) return null;
  const worse = budget[budget.left.worst > budget.right.worst ? "left" : "right"];
  const lift = (/** @type {"left"|"right"} */ end) =>
    times * (worse.play_at_low[end] + ((swing + 1) / 2) * (worse.play_at_high[end] - worse.play_at_low[end]));
  const { left, right } = state.mount.blade;
  const [low, high] = [lift("left"), lift("right")];
  const turn = Math.atan2(high - low, right[0] - left[0]);
  const { blade } = bodies;
  return {
    ...bodies,
    blade: { ...blade, at: [blade.at[0], blade.at[1] + (low + high) / 2], angle: blade.angle + (turn * 180) / Math.PI },
  };
}

/** @param {import("../core/store.js").State} state */
function markedIn(state) {
  const marked = new Set();
  for (const fault of state.refusal?.faults ?? []) {
    const match = fault.place.match(/members\[(\d+)\]/);
    const member = match && state.mount.members[Number(match[1])];
    if (member) marked.add(member.id);
  }
  const answer = state.answered ?? state.readout;
  if (!state.refusal && answer) {
    for (const id of answer.mobility.members) marked.add(id);
    for (const warning of answer.warnings) for (const id of warning.members) marked.add(id);
  }
  return marked;
}
