/**
 * Coordinates as they are kept.
 * @module values/tidy
 */

/** A coordinate without rounding dust. @param {number} value */
export function tidy(value) {
  return Math.round(value * 1e6) / 1e6;
}
