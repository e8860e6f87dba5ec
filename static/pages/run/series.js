/**
 * A run as far as it is there: rows over time, put together from the pieces it comes in.
 * @module pages/run/series
 */

/** @typedef {{left: number, right: number}} Heights */
/** @typedef {{at: [number, number], angle: number}} Stood mm and degrees */

const ENDS = /** @type {const} */ (["left", "right"]);

export class Series {
  constructor() {
    /** Time between two points, s. */
    this.step = 0;
    /** Share of the whole that is there. */
    this.share = 0;
    /** Mm off grade. @type {Record<EndName, number[]>} */
    this.errors = { left: [], right: [] };
    /** Mm above its mean. @type {Record<EndName, number[]>} */
    this.ground = { left: [], right: [] };
    /** Share of the full flow, by cylinder. @type {Record<string, number[]>} */
    this.commands = {};
    /** The points at which the bodies are told. @type {number[]} */
    this.stoodAt = [];
    /** @type {Record<string, [number, number, number][]>} */
    this.stood = {};
    /** Height of the frame over both tracks at the same points, mm. @type {Record<EndName, number[]>} */
    this.frame = { left: [], right: [] };
  }

  /** A run that is whole. @param {Ran} ran */
  static of(ran) {
    const series = new Series();
    series.step = ran.time[1] - ran.time[0];
    series.share = 1;
    series.errors = { left: ran.left, right: ran.right };
    series.ground = { left: ran.ground.left ?? [], right: ran.ground.right ?? [] };
    return series;
  }

  /** Seconds that are there. */
  get seconds() {
    return Math.max(this.errors.left.length - 1, 0) * this.step;
  }

  /** Put the next piece to it; one that begins anew replaces all. @param {RunPiece} piece */
  take(piece) {
    if (piece.begins === 0) Object.assign(this, new Series());
    this.step = piece.step;
    this.share = piece.share;
    for (const end of ENDS) {
      this.errors[end].push(...piece[end]);
      this.ground[end].push(...piece.ground[end]);
      this.frame[end].push(...piece.frame[end]);
    }
    for (const [name, row] of Object.entries(piece.commands)) (this.commands[name] ??= []).push(...row);
    this.stoodAt.push(...piece.stood_at);
    for (const [name, row] of Object.entries(piece.stood)) {
      (this.stood[name] ??= []).push(.../** @type {[number, number, number][]} */ (row));
    }
  }

  /** How far the ends are off grade, mm. @param {number} time s @returns {Heights} */
  errorsAt(time) {
    return { left: between(this.errors.left, time / this.step), right: between(this.errors.right, time / this.step) };
  }

  /** The share of the full flow a cylinder takes. @param {string} name @param {number} time s */
  commandAt(name, time) {
    const row = this.commands[name] ?? [];
    return row[Math.min(Math.floor(time / this.step + 1e-6), row.length - 1)] ?? 0;
  }

  /**
   * Where the bodies and the frame stand.
   * @param {number} time s
   * @returns {{bodies: Record<string, Stood>, frame: Heights}}
   */
  standing(time) {
    const place = placeIn(this.stoodAt, time / this.step);
    const bodies = Object.fromEntries(
      Object.entries(this.stood).map(([name, row]) => {
        const [x, y, angle] = [0, 1, 2].map((part) =>
          between(
            row.map((each) => each[part]),
            place,
          ),
        );
        return [name, { at: /** @type {[number, number]} */ ([x, y]), angle }];
      }),
    );
    return { bodies, frame: { left: between(this.frame.left, place), right: between(this.frame.right, place) } };
  }
}

/** A value between two of a row, straight. @param {ArrayLike<number>} row @param {number} place */
function between(row, place) {
  if (!row.length) return 0;
  const at = Math.min(Math.max(Number.isFinite(place) ? place : 0, 0), row.length - 1);
  const low = Math.floor(at);
  const high = Math.min(low + 1, row.length - 1);
  return row[low] + (at - low) * (row[high] - row[low]);
}

/** Where a point lies among rising ones, as a place between them. @param {number[]} points @param {number} point */
function placeIn(points, point) {
  let [low, high] = [0, points.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (points[middle] <= point) low = middle;
    else high = middle;
  }
  const wide = points[high] - points[low];
  return wide ? low + (point - points[low]) / wide : low;
}

/**
 * A row as few enough points to draw: of every stretch that falls into one pixel its lowest and highest.
 * @param {number[]} row @param {number} pixels
 * @returns {[number, number][]} place in the row and value
 */
export function thinned(row, pixels) {
  const each = Math.max(1, Math.floor(row.length / Math.max(pixels, 1)));
  /** @type {[number, number][]} */
  const found = [];
  for (let first = 0; first < row.length; first += each) {
    const last = Math.min(first + each, row.length);
    let [low, high] = [first, first];
    for (let at = first; at < last; at += 1) {
      if (row[at] < row[low]) low = at;
      if (row[at] > row[high]) high = at;
    }
    for (const at of low === high ? [low] : low < high ? [low, high] : [high, low]) found.push([at, row[at]]);
  }
  const end = row.length - 1;
  if (end > 0 && found[found.length - 1][0] !== end) found.push([end, row[end]]);
  return found;
}

/** The largest size in several rows. @param {number[][]} rows */
export function largest(...rows) {
  return rows.reduce((most, row) => row.reduce((so, each) => Math.max(so, Math.abs(each)), most), 0);
}
