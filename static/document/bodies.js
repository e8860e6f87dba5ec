/**
 * The moving bodies besides the blade: a document names one, or says its mass too.
 * @module document/bodies
 */

/** @param {string|WeighedBody} body */
export function nameOf(body) {
  return typeof body === "string" ? body : body.name;
}

/** @param {{bodies?: (string|WeighedBody)[]}} mount @returns {string[]} */
export function bodyNames(mount) {
  return (mount.bodies ?? []).map(nameOf);
}

/** @param {string|WeighedBody} body @param {string} name @returns {string|WeighedBody} */
export function renamed(body, name) {
  return typeof body === "string" ? name : { ...body, name };
}

/**
 * Where a body's name stands in the document.
 * @param {{bodies?: (string|WeighedBody)[]}} mount @param {number} index
 */
export function namePlace(mount, index) {
  return typeof mount.bodies?.[index] === "string" ? `bodies[${index}]` : `bodies[${index}].name`;
}

/**
 * @param {Mount} mount @param {string} name @param {number} mass kg
 * @returns {Mount} the body with a mass at the middle of its joints
 */
export function withMass(mount, name, mass) {
  const places = mount.members.flatMap((each) =>
    each.joins
      ? each.joins.includes(name)
        ? [each.at]
        : []
      : each.ends.filter((end) => end.on === name).map((end) => end.at),
  );
  const middle = [0, 1].map((axis) => places.reduce((sum, at) => sum + at[axis], 0) / (places.length || 1));
  const mass_centre = /** @type {[number, number]} */ (middle);
  return {
    ...mount,
    bodies: (mount.bodies ?? []).map((body) => (nameOf(body) === name ? { name, mass, mass_centre } : body)),
  };
}

/** @param {Mount} mount @param {string} name @returns {Mount} */
export function withoutMass(mount, name) {
  return { ...mount, bodies: (mount.bodies ?? []).map((body) => (nameOf(body) === name ? name : body)) };
}
