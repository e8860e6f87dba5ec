/**
 * The same command for two mounts: where the ends of the blade should go, turned into each mount's own strokes.
 * @module pages/compare/ends
 */

/** @typedef {"left"|"right"} End */
/** @typedef {{left: number, right: number}} Heights mm, + upward */

export const ENDS = /** @type {const} */ (["left", "right"]);

const MOVES_NOTHING = 1e-6;
const MET_MM = 0.001;

/** How far each end stands above where it was drawn. @param {any} readout @param {any} mount @returns {Heights} */
export function lifts(readout, mount) {
  const { left, right } = readout.pose.ends;
  return { left: left[1] - mount.blade.left[1], right: right[1] - mount.blade.right[1] };
}

/**
 * The ends a mount can bring where they are asked to be.
 * @param {any} readout
 * @param {Heights} asked
 * @returns {End[]}
 */
export function served(readout, asked) {
  const { moves } = readout.coupling;
  if (moves || many(readout)) return [...ENDS];
  const order = Math.abs(asked.left) > Math.abs(asked.right) ? ENDS : [...ENDS].reverse();
  const end = order.find((each) => asked[each] !== 0 && strongest(readout, each));
  return end ? [end] : [];
}

/**
 * The strokes that bring the ends toward where they are asked to be, from where the readout has them: by the readout's
 * own moves where it has them, with the least strokes where many moves do it, else for one end with the cylinder that
 * moves it most.
 * @param {any} readout @param {any} mount @param {Heights} asked
 * @returns {Record<string, number>} the command, mm longer than drawn by cylinder
 */
export function strokesFor(readout, mount, asked) {
  if (!asked.left && !asked.right) return {};
  const now = lifts(readout, mount);
  const need = { left: asked.left - now.left, right: asked.right - now.right };
  const command = { ...readout.pose.command };
  for (const [id, move] of Object.entries(stepFor(readout, need, asked))) command[id] += move;
  return command;
}

/**
 * Whether the ends that can be served are where they should be.
 * @param {any} readout
 * @param {any} mount
 * @param {Heights} asked
 */
export function met(readout, mount, asked) {
  const now = lifts(readout, mount);
  return served(readout, asked).every((end) => Math.abs(asked[end] - now[end]) < MET_MM);
}

/** @param {any} readout @param {Heights} need @param {Heights} asked @returns {Record<string, number>} */
function stepFor(readout, need, asked) {
  const { moves } = readout.coupling;
  const ids = Object.keys(readout.actuators);
  if (moves)
    return Object.fromEntries(ids.map((id) => [id, need.left * moves.left[id] + need.right * moves.right[id]]));
  const all = many(readout);
  if (all) {
    const [[a, b], [, d]] = all;
    const by = [(d * need.left - b * need.right) / (a * d - b * b), (a * need.right - b * need.left) / (a * d - b * b)];
    return Object.fromEntries(
      ids.map((id) => [id, readout.actuators[id].left * by[0] + readout.actuators[id].right * by[1]]),
    );
  }
  const [end] = served(readout, asked);
  const id = end && strongest(readout, end);
  return id ? { [id]: need[end] / readout.actuators[id][end] } : {};
}

/** For three cylinders or more that can move both ends apart: the products of their gains. @param {any} readout */
function many(readout) {
  const acts = Object.values(readout.actuators);
  if (acts.length < 3) return null;
  const sum = (/** @type {End} */ a, /** @type {End} */ b) =>
    acts.reduce((total, each) => total + each[a] * each[b], 0);
  const [a, b, d] = [sum("left", "left"), sum("left", "right"), sum("right", "right")];
  return a * d - b * b > MOVES_NOTHING * (a + d) ** 2
    ? [
        [a, b],
        [b, d],
      ]
    : null;
}

/** The cylinder that moves an end most. @param {any} readout @param {End} end @returns {string|null} */
function strongest(readout, end) {
  const sorted = Object.entries(readout.actuators).sort((x, y) => Math.abs(y[1][end]) - Math.abs(x[1][end]));
  return sorted.length && Math.abs(sorted[0][1][end]) > MOVES_NOTHING ? sorted[0][0] : null;
}
