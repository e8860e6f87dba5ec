/**
 * The words and numbers that server and page share: quantities and their units, kinds of member and of source, limits.
 * The server writes them into every page; nothing of them is written a second time here.
 * @module values/vocabulary
 */

/**
 * @typedef {Object} Vocabulary as app/vocabulary.py describes it
 * @property {Record<string, Record<System, {unit: string, factor: number, digits: number}>>} quantities
 * @property {Record<string, Record<string, number>>} typed
 * @property {Record<System, Customs>} systems
 * @property {Record<System, Record<string, number>>} length_steps
 * @property {MemberKind[]} members
 * @property {{kind: string, label: string, short: string, title: string, step: string}[]} sources
 * @property {{members: number, bodies: number, title: number, note: number, name: number, stroke: number}} limits
 * @property {{what: GoalWhat, label: string, measure: import("./units.js").Quantity, lacks: string}[]} goals
 * @property {{fewest: number, usual: number, most: number, free: number}} search
 * @property {{starts: number, off: number}} tuning
 */

/** @typedef {{key: string, label: string, measure: import("./units.js").Quantity, axes: string[]}} Field */

/**
 * @typedef {Object} MemberKind
 * @property {string} kind
 * @property {string} title
 * @property {string} on
 * @property {string[]} ends
 * @property {string[]} short_ends
 * @property {Field[]} fields
 * @property {Field[]} joint_fields
 */

/** @type {Vocabulary} */
export const vocabulary = JSON.parse(document.getElementById("vocabulary")?.textContent ?? "");

/** @param {string} kind of a member @returns {MemberKind} */
export function memberKind(kind) {
  const found = vocabulary.members.find((each) => each.kind === kind);
  if (!found) throw new Error(`there is no kind of member '${kind}'`);
  return found;
}

/** @param {GoalWhat} what a goal is about */
export function goalKind(what) {
  const found = vocabulary.goals.find((each) => each.what === what);
  if (!found) throw new Error(`there is no goal about '${what}'`);
  return found;
}

/** What one source of a kind is. @param {string} kind */
export function sourceWords(kind) {
  const found = vocabulary.sources.find((each) => each.kind === kind);
  if (!found) throw new Error(`there is no kind of source '${kind}'`);
  return found;
}

/**
 * The single numbers of some fields: where each stands below its part of the document, its label, what it measures.
 * @param {Field[]} fields @returns {{key: string, label: string, measure: import("./units.js").Quantity}[]}
 */
export function numbersOf(fields) {
  return fields.flatMap(({ key, label, measure, axes }) =>
    axes.length
      ? axes.map((axis, index) => ({ key: `${key}[${index}]`, label: `${label} ${axis}`.trim(), measure }))
      : [{ key, label, measure }],
  );
}
