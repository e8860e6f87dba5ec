/**
 * Records whose keys are names that a user gave.
 * @module values/own
 */

/**
 * What stands in a record under a name. Every object knows `constructor`, and a cylinder may be called so.
 * @template T
 * @param {Record<string, T>|null|undefined} record @param {string|null|undefined} name @returns {T|undefined}
 */
export function own(record, name) {
  return record && typeof name === "string" && Object.hasOwn(record, name) ? record[name] : undefined;
}
