/**
 * Where bodies stand: from points as drawn to points as they stand, and back.
 * @module values/placed
 */

/** @typedef {readonly [number, number]} Point */
/** @typedef {{drawn: Point, at: Point, angle: number}} Standing */

/**
 * @param {Point} point as drawn
 * @param {Standing|undefined} body undefined for the frame, or where nothing is known yet
 * @returns {[number, number]}
 */
export function standing(point, body) {
  if (!body) return [point[0], point[1]];
  return turned([point[0] - body.drawn[0], point[1] - body.drawn[1]], body.angle, body.at);
}

/**
 * @param {Point} point as it stands
 * @param {Standing|undefined} body
 * @returns {[number, number]} as drawn
 */
export function drawn(point, body) {
  if (!body) return [point[0], point[1]];
  return turned([point[0] - body.at[0], point[1] - body.at[1]], -body.angle, body.drawn);
}

/** @param {Point} arm @param {number} degrees @param {Point} about @returns {[number, number]} */
function turned(arm, degrees, about) {
  const angle = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return [about[0] + cos * arm[0] - sin * arm[1], about[1] + sin * arm[0] + cos * arm[1]];
}
