/**
 * Lines of equal value and areas between values over a grid of numbers: marching squares.
 *
 * A grid has `wide` values a row and `high` rows; its places are counted in cells, [0, 0] the first value of the first
 * row. NaN stands where there is no number: a square with one at a corner has no line and no area.
 * @module values/contours
 */

/** @typedef {{wide: number, high: number, values: ArrayLike<number>}} Grid */
/** @typedef {[number, number]} Place */

/** The corners of a square, in the order round it. @type {Place[]} */
const ROUND = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

/**
 * Where a grid has a value, as lines.
 * @param {Grid} grid @param {number} level
 * @returns {Place[][]} each from one end to the other, closed ones back to where they begin
 */
export function linesAt(grid, level) {
  return joined(segmentsAt(grid, level));
}

/**
 * A piece of a line: the edges of the grid it goes from and to, and where on them.
 * @typedef {{at: [number, number], ends: [Place, Place]}} Segment
 */

/** @param {Grid} grid @param {number} level @returns {Segment[]} */
function segmentsAt({ wide, high, values }, level) {
  /** @type {Segment[]} */
  const found = [];
  for (let row = 0; row + 1 < high; row += 1)
    for (let column = 0; column + 1 < wide; column += 1) {
      const first = row * wide + column;
      const a = values[first];
      const b = values[first + 1];
      const c = values[first + wide + 1];
      const d = values[first + wide];
      const over = Number(a >= level) + Number(b >= level) + Number(c >= level) + Number(d >= level);
      if (over === 0 || over === 4 || Number.isNaN(a + b + c + d)) continue;
      const corners = [a, b, c, d];
      /** @type {[number, Place][]} */
      const crossed = [];
      for (let side = 0; side < 4; side += 1) {
        const [from, to] = [corners[side], corners[(side + 1) % 4]];
        if (from >= level === to >= level) continue;
        crossed.push([edgeOf(first, wide, side), between(column, row, side, (level - from) / (to - from))]);
      }
      if (crossed.length === 2) found.push(piece(crossed[0], crossed[1]));
      else {
        // A saddle: the middle says which of the opposite corners hang together.
        const together = (a + b + c + d) / 4 >= level === a >= level;
        found.push(piece(crossed[0], crossed[together ? 1 : 3]), piece(crossed[2], crossed[together ? 3 : 1]));
      }
    }
  return found;
}

/** @param {[number, Place]} from @param {[number, Place]} to @returns {Segment} */
function piece(from, to) {
  return { at: [from[0], to[0]], ends: [from[1], to[1]] };
}

/**
 * The number of an edge of the grid: those along a row are even.
 * @param {number} first @param {number} wide @param {number} side
 */
function edgeOf(first, wide, side) {
  return [2 * first, 2 * (first + 1) + 1, 2 * (first + wide), 2 * first + 1][side];
}

/** @param {number} column @param {number} row @param {number} side @param {number} share @returns {Place} */
function between(column, row, side, share) {
  const [from, to] = [ROUND[side], ROUND[(side + 1) % 4]];
  return [column + from[0] + (to[0] - from[0]) * share, row + from[1] + (to[1] - from[1]) * share];
}

/** Pieces put end to end. @param {Segment[]} segments @returns {Place[][]} */
function joined(segments) {
  /** @type {Map<number, number[]>} */
  const meeting = new Map();
  segments.forEach(({ at }, index) => {
    for (const edge of at) {
      const there = meeting.get(edge);
      if (there) there.push(index);
      else meeting.set(edge, [index]);
    }
  });
  const used = new Set();
  /** From a piece on, away from one of its edges. @param {number} index @param {number} leaving @returns {Place[]} */
  const onward = (index, leaving) => {
    const line = [];
    for (let now = index, edge = leaving; ;) {
      const next = /** @type {number[]} */ (meeting.get(edge)).find((each) => !used.has(each));
      if (next === undefined || next === now) return line;
      used.add(next);
      const side = segments[next].at[0] === edge ? 1 : 0;
      line.push(segments[next].ends[side]);
      [now, edge] = [next, segments[next].at[side]];
    }
  };
  const lines = [];
  for (let index = 0; index < segments.length; index += 1) {
    if (used.has(index)) continue;
    used.add(index);
    const { at, ends } = segments[index];
    const ahead = onward(index, at[1]);
    const behind = onward(index, at[0]);
    lines.push([...behind.reverse(), ends[0], ends[1], ...ahead]);
  }
  return lines;
}

/**
 * The area where a grid has values from `least` up to `most`, as closed shapes that do not overlap: whole squares of a
 * row in one.
 * @param {Grid} grid @param {number} least @param {number} most
 * @returns {Place[][]}
 */
export function areaBetween({ wide, high, values }, least, most) {
  const found = [];
  for (let row = 0; row + 1 < high; row += 1) {
    let run = -1;
    for (let column = 0; column < wide; column += 1) {
      const first = row * wide + column;
      const isSquare = column + 1 < wide;
      const a = isSquare ? values[first] : NaN;
      const b = values[first + 1];
      const c = values[first + wide + 1];
      const d = values[first + wide];
      const low = Math.min(a, b, c, d);
      const high = Math.max(a, b, c, d);
      const whole = low >= least && high <= most;
      if (whole && run < 0) run = column;
      if (whole) continue;
      if (run >= 0) found.push(box(run, column, row));
      run = -1;
      if (high >= least && low <= most) {
        const part = cut(
          cut(start([a, b, c, d], column, row), (value) => value - least),
          (value) => most - value,
        );
        if (part.length > 2) found.push(part.map(({ at }) => at));
      }
    }
  }
  return found;
}

/**
 * The squares of a grid with no number at a corner, a row's neighbours in one.
 * @param {Grid} grid @returns {Place[][]}
 */
export function areaWithout({ wide, high, values }) {
  const found = [];
  for (let row = 0; row + 1 < high; row += 1) {
    let run = -1;
    for (let column = 0; column < wide; column += 1) {
      const first = row * wide + column;
      const without =
        column + 1 < wide &&
        Number.isNaN(values[first] + values[first + 1] + values[first + wide] + values[first + wide + 1]);
      if (without && run < 0) run = column;
      if (!without && run >= 0) {
        found.push(box(run, column, row));
        run = -1;
      }
    }
  }
  return found;
}

/** @param {number} from @param {number} to @param {number} row @returns {Place[]} */
function box(from, to, row) {
  return [
    [from, row],
    [to, row],
    [to, row + 1],
    [from, row + 1],
  ];
}

/** @typedef {{at: Place, value: number}} Corner */

/** @param {number[]} corners @param {number} column @param {number} row @returns {Corner[]} */
function start(corners, column, row) {
  return ROUND.map(([x, y], index) => ({ at: [column + x, row + y], value: corners[index] }));
}

/**
 * What of a shape is where something is not below nought.
 * @param {Corner[]} shape @param {(value: number) => number} by @returns {Corner[]}
 */
function cut(shape, by) {
  /** @type {Corner[]} */
  const kept = [];
  shape.forEach((corner, index) => {
    const next = shape[(index + 1) % shape.length];
    const [here, there] = [by(corner.value), by(next.value)];
    if (here >= 0) kept.push(corner);
    if (here >= 0 === there >= 0) return;
    const share = here / (here - there);
    kept.push({
      at: [corner.at[0] + (next.at[0] - corner.at[0]) * share, corner.at[1] + (next.at[1] - corner.at[1]) * share],
      value: corner.value + (next.value - corner.value) * share,
    });
  });
  return kept;
}

/**
 * Round values inside a range, at most `most` of them: steps of 1, 2 or 5 of a unit's tens.
 * @param {number} low @param {number} high @param {number} most @param {number} [unit] what one of the unit shown is
 * @returns {{step: number, levels: number[]}}
 */
export function roundLevels(low, high, most, unit = 1) {
  const span = (high - low) / unit;
  if (!(span > 0) || !Number.isFinite(span)) return { step: unit, levels: [] };
  const least = span / most;
  const tens = 10 ** Math.floor(Math.log10(least));
  const times = [1, 2, 5, 10].find((each) => each * tens >= least * (1 - 1e-9)) ?? 10;
  const step = times * tens * unit;
  const levels = [];
  for (let at = Math.ceil(low / step - 1e-9); at * step <= high + 1e-9 * step; at += 1) levels.push(at * step);
  return { step, levels };
}
