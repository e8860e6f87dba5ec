/**
 * The view transform of the sheet: mm with y up to pixels with y down. An immutable value.
 * @module values/view
 */

/** @typedef {readonly [number, number]} Point */

export class View {
  /**
   * @param {number} scale pixels per mm
   * @param {number} x pixel of the sheet's origin
   * @param {number} y pixel of the sheet's origin
   */
  constructor(scale, x, y) {
    this.scale = scale;
    this.x = x;
    this.y = y;
    Object.freeze(this);
  }

  /** @param {Point} at mm @returns {[number, number]} pixels */
  apply(at) {
    return [this.x + this.scale * at[0], this.y - this.scale * at[1]];
  }

  /** @param {Point} at pixels @returns {[number, number]} mm */
  invert(at) {
    return [(at[0] - this.x) / this.scale, (this.y - at[1]) / this.scale];
  }

  /** Larger or smaller about a pixel that stays where it is. @param {Point} at @param {number} factor */
  zoomed(at, factor) {
    const scale = Math.min(Math.max(this.scale * factor, 0.005), 20);
    const real = scale / this.scale;
    return new View(scale, at[0] + (this.x - at[0]) * real, at[1] + (this.y - at[1]) * real);
  }

  /** @param {number} dx pixels @param {number} dy pixels */
  shifted(dx, dy) {
    return new View(this.scale, this.x + dx, this.y + dy);
  }
}

/**
 * The view that shows all points inside a frame.
 * @param {Point[]} points mm
 * @param {{width: number, height: number}} size pixels
 * @param {{left: number, right: number, top: number, bottom: number}} margin pixels
 */
export function fit(points, size, margin) {
  const xs = points.map((point) => point[0]);
  const ys = points.map((point) => point[1]);
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const room = [size.width - margin.left - margin.right, size.height - margin.top - margin.bottom];
  const scale = Math.max(
    Math.min(Math.max(room[0], 40) / Math.max(right - left, 1), Math.max(room[1], 40) / Math.max(high - low, 1)),
    0.005,
  );
  const x = margin.left + (room[0] - scale * (right - left)) / 2 - scale * left;
  const y = margin.top + (room[1] + scale * (high - low)) / 2 + scale * low;
  return new View(scale, x, y);
}
