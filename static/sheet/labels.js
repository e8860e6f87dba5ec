/**
 * Where the words of the sheet stand: every mark says what it wants to write, where it would like it and what its lines
 * bar; here each text gets a place, so that no two overlap, none leaves the sheet and none covers the instant centre.
 * @module sheet/labels
 */

/** @typedef {readonly [number, number]} Point pixels */
/** @typedef {{x: number, y: number, width: number, height: number}} Box pixels, from its upper left corner */
/** @typedef {{width: number, height: number}} Size pixels */
/** @typedef {keyof typeof WAYS} Side on which side of its point a text stands */

/**
 * A point and a side of it where a text may stand.
 * @typedef {Object} Spot
 * @property {Point} at
 * @property {Side} side
 * @property {Point} gap from the point to the letters, across and up or down
 */

/**
 * What a text would rather not lie over: a box, or a line of some width.
 * @typedef {Object} Obstacle
 * @property {keyof typeof WEIGHTS} kind
 * @property {Point} from
 * @property {Point} to the same as `from` for a thing that is round
 * @property {Point} half how far it reaches to either side of its line, across and up or down
 */

/**
 * @typedef {Object} Wanted
 * @property {string} name what it is known by from one picture to the next
 * @property {Spot[]} spots the best first
 * @property {number} rank the lower, the earlier it chooses; one of `RANK`
 * @property {boolean} [keep] a number that matters: it is never left out while its point is on the sheet
 * @property {Obstacle["kind"][]} [over] what it may lie over
 * @property {number} [steps] how many times it may be moved on by `STEP`
 */

/** @typedef {Wanted & {sizes: Size[]}} Sized the sizes of what it may say, the fullest first */

/**
 * @typedef {Object} Place
 * @property {Box} box
 * @property {Side} side
 * @property {number} said which of the sizes
 * @property {string} spot which spot, how far along and across and which of the sizes, known again in the next picture
 */

/** Right and down of the point, or left and up. */
const WAYS = {
  right: [1, 0],
  left: [-1, 0],
  above: [0, -1],
  below: [0, 1],
  on: [0, 0],
  "above right": [1, -1],
  "above left": [-1, -1],
  "below right": [1, 1],
  "below left": [-1, 1],
};

/** How much it costs to lie over a thing. */
export const WEIGHTS = {
  centre: 6,
  joint: 5,
  arrow: 5,
  staff: 5,
  mass: 5,
  outline: 4,
  body: 4,
  foot: 3,
  member: 3,
  line: 1,
};

/** Who chooses first. */
export const RANK = { hand: 0, value: 1, number: 2, facts: 3, asked: 4, scale: 5, name: 6, caption: 7 };

/** How far a text is moved on at a time, pixels. */
const STEP = 14;
const STEPS = 3;
/** What a less liked spot, a shorter wording, a step, one to the side, and a pixel in from the sheet's edge cost. */
const COST = { spot: 0.5, shorter: 3, step: 1.5, aside: 0.7, pixel: 0.1 };
/** So much worse the place of the last picture may be before it is given up. */
const STAYING = 3;
/** Room between two texts, and between a text and the sheet's edge, pixels. */
const APART = { x: 4, y: 0 };
const EDGE = 3;
/** What no text may cover, and how far from its line, pixels: the middle of the instant centre. */
const KEPT_CLEAR = /** @type {Partial<Record<Obstacle["kind"], number>>} */ ({ centre: 7 });
/** How close together places are tried where no liked spot is free, pixels. */
const LATTICE = 9;

/**
 * Spots about a point, the best first.
 * @param {Point} at @param {Side[]} sides @param {Point} [gap] @returns {Spot[]}
 */
export function around(at, sides, gap = [8, 3]) {
  return sides.map((side) => ({ at, side, gap }));
}

/** @param {Obstacle["kind"]} kind @param {Point} at @param {number} radius @returns {Obstacle} */
export function disc(kind, at, radius) {
  return { kind, from: at, to: at, half: [radius, radius] };
}

/** @param {Obstacle["kind"]} kind @param {Point} from @param {Point} to @param {number} [half] @returns {Obstacle} */
export function bar(kind, from, to, half = 1) {
  return { kind, from, to, half: [half, half] };
}

/** @param {Obstacle["kind"]} kind @param {Point} one corner @param {Point} other @returns {Obstacle} */
export function boxed(kind, one, other) {
  const middle = /** @type {Point} */ ([(one[0] + other[0]) / 2, (one[1] + other[1]) / 2]);
  const half = /** @type {Point} */ ([Math.abs(one[0] - other[0]) / 2, Math.abs(one[1] - other[1]) / 2]);
  return { kind, from: middle, to: middle, half };
}

/** Every side of a polygon. @param {Obstacle["kind"]} kind @param {Point[]} points @param {number} half */
export function sidesOf(kind, points, half) {
  return points.map((from, index) => bar(kind, from, points[(index + 1) % points.length], half));
}

/**
 * A place for every text; one that is left out has none.
 * @param {Sized[]} wanted
 * @param {Obstacle[]} obstacles
 * @param {Size} room of the sheet
 * @param {Map<string, Place>} [before] the places of the last picture
 * @returns {Map<string, Place>}
 */
export function places(wanted, obstacles, room, before = new Map()) {
  /** @type {Map<string, Place>} */
  const found = new Map();
  /** @type {Box[]} */
  const taken = [];
  const clear = obstacles.flatMap((each) => {
    const away = KEPT_CLEAR[each.kind];
    return away === undefined ? [] : [{ ...each, half: /** @type {Point} */ ([away, away]) }];
  });
  for (const each of [...wanted].sort((a, b) => a.rank - b.rank)) {
    const spots = each.spots.filter(({ at }) => within(at, room));
    if (!spots.length) continue;
    const bars = each.over ? obstacles.filter(({ kind }) => !each.over?.includes(kind)) : obstacles;
    const sheet = { bars, clear, taken, room };
    const place = liked({ ...each, spots }, sheet, before.get(each.name)) ?? (each.keep ? free(each, sheet) : null);
    if (!place) continue;
    found.set(each.name, place);
    taken.push(place.box);
  }
  return found;
}

/** @typedef {{bars: Obstacle[], clear: Obstacle[], taken: Box[], room: Size}} Filled the sheet so far */

/** @typedef {{along: number, across: number, cost: number}} Move pixels from a spot, and what that costs */

/** @type {Map<number, Move[]>} */
const MOVES = new Map();

/**
 * How far a text may be moved from its spot, the cheapest first: away from its point, or to either side.
 * @param {number} steps
 */
function moves(steps) {
  const known = MOVES.get(steps);
  if (known) return known;
  const found = [{ along: 0, across: 0, cost: 0 }];
  for (let step = 1; step <= steps; step += 1) {
    const cost = step * COST.step;
    found.push({ along: step * STEP, across: 0, cost });
    for (const way of [-1, 1]) found.push({ along: 0, across: way * step * STEP, cost: cost + COST.aside });
  }
  MOVES.set(steps, found);
  return found;
}

/**
 * The best of the places it would like, if one is free. That of the last picture is looked at first: few are better.
 * @param {Sized} wanted @param {Filled} sheet @param {Place|undefined} last @returns {Place|null}
 */
function liked(wanted, sheet, last) {
  const { spots, sizes } = wanted;
  const stood = last && standingSpot(wanted, last.spot);
  /** @type {Place|null} */
  let best = null;
  let least = Infinity;
  /** @param {number} index @param {Move} move @param {number} said @param {number} staying */
  const look = (index, { along, across, cost: far }, said, staying) => {
    const cost = index * COST.spot + said * COST.shorter + far - staying;
    if (cost >= least) return;
    const spot = spots[index];
    const { box, pushed } = pushedIn(boxAt(spot, sizes[said], along, across), sheet.room);
    if (cost + pushed * COST.pixel >= least || !isFree(box, sheet)) return;
    const placed = cost + pushed * COST.pixel;
    const total = placed + lyingOver(box, sheet.bars, least - placed);
    if (total >= least) return;
    least = total;
    best = { box, side: spot.side, said, spot: `${nth(spots, index)}/${along}/${across}/${said}` };
  };
  if (stood) look(stood.index, stood.move, stood.said, STAYING);
  for (const move of moves(wanted.steps ?? STEPS)) {
    if (move.cost >= least) break;
    for (let said = 0; said < sizes.length; said += 1)
      for (let index = 0; index < spots.length; index += 1) look(index, move, said, 0);
  }
  return best;
}

/** What a spot is known by in the next picture: which of its side. @param {Spot[]} spots @param {number} index */
function nth(spots, index) {
  const { side } = spots[index];
  return `${side} ${spots.slice(0, index).filter((each) => each.side === side).length}`;
}

/** Where the spot of the last picture is now; null where it is gone. @param {Sized} wanted @param {string} known */
function standingSpot({ spots, sizes, steps }, known) {
  const [name, along, across, said] = known.split("/");
  const index = spots.findIndex((_, each) => nth(spots, each) === name);
  const move = moves(steps ?? STEPS).find((each) => each.along === Number(along) && each.across === Number(across));
  return index >= 0 && move && Number(said) < sizes.length ? { index, move, said: Number(said) } : null;
}

/**
 * The free place nearest to where a number belongs that has no other.
 * @param {Sized} wanted @param {Filled} sheet @returns {Place|null}
 */
function free(wanted, sheet) {
  const said = wanted.sizes.length - 1;
  const size = wanted.sizes[said];
  const [{ at }] = wanted.spots;
  let least = Infinity;
  /** @type {Box|null} */
  let best = null;
  for (let y = EDGE; y + size.height <= sheet.room.height - EDGE; y += LATTICE) {
    for (let x = EDGE; x + size.width <= sheet.room.width - EDGE; x += LATTICE) {
      const far = Math.hypot(x + size.width / 2 - at[0], y + size.height / 2 - at[1]);
      const box = { x, y, ...size };
      if (far >= least || !isFree(box, sheet)) continue;
      least = far;
      best = box;
    }
  }
  return best && { box: best, side: "on", said, spot: "free" };
}

/** @param {Point} at @param {Size} room */
function within([x, y], { width, height }) {
  return x >= 0 && y >= 0 && x <= width && y <= height;
}

/** @param {Spot} spot @param {Size} size @param {number} along @param {number} across @returns {Box} */
function boxAt({ at, side, gap }, { width, height }, along, across) {
  const [right, down] = WAYS[side];
  const [x, y] = down ? [gap[0], gap[1] + along] : [gap[0] + along, gap[1]];
  return {
    x: at[0] + right * x + ((right - 1) / 2) * width + (down ? across : 0),
    y: at[1] + down * y + ((down - 1) / 2) * height + (down ? 0 : across),
    width,
    height,
  };
}

/** A box brought onto the sheet. @param {Box} box @param {Size} room @returns {{box: Box, pushed: number}} */
function pushedIn(box, room) {
  const x = Math.max(Math.min(box.x, room.width - EDGE - box.width), EDGE);
  const y = Math.max(Math.min(box.y, room.height - EDGE - box.height), EDGE);
  return { box: { ...box, x, y }, pushed: Math.abs(x - box.x) + Math.abs(y - box.y) };
}

/** @param {Box} box @param {Filled} sheet */
function isFree(box, { taken, clear, room }) {
  return (
    box.x + box.width <= room.width &&
    box.y + box.height <= room.height &&
    !taken.some((each) => overlap(box, each)) &&
    !clear.some(({ from, to, half }) => meets(box, from, to, half))
  );
}

/** @param {Box} a @param {Box} b */
function overlap(a, b) {
  return (
    a.x < b.x + b.width + APART.x &&
    b.x < a.x + a.width + APART.x &&
    a.y < b.y + b.height + APART.y &&
    b.y < a.y + a.height + APART.y
  );
}

/**
 * What it costs to lie over all that is under a box, counted no further than would be too much.
 * @param {Box} box @param {Obstacle[]} bars @param {number} most
 */
function lyingOver(box, bars, most) {
  let sum = 0;
  for (const { kind, from, to, half } of bars) {
    if (meets(box, from, to, half)) sum += WEIGHTS[kind];
    if (sum >= most) break;
  }
  return sum;
}

/**
 * Whether a line of some width meets a box.
 * @param {Box} box @param {Point} from @param {Point} to @param {Point} half
 */
function meets({ x, y, width, height }, from, to, half) {
  let [enters, leaves] = [0, 1];
  for (const axis of /** @type {const} */ ([0, 1])) {
    const low = (axis ? y : x) - half[axis];
    const high = (axis ? y + height : x + width) + half[axis];
    const run = to[axis] - from[axis];
    if (Math.abs(run) < 1e-9) {
      if (from[axis] <= low || from[axis] >= high) return false;
      continue;
    }
    const [a, b] = [(low - from[axis]) / run, (high - from[axis]) / run];
    enters = Math.max(enters, Math.min(a, b));
    leaves = Math.min(leaves, Math.max(a, b));
    if (enters >= leaves) return false;
  }
  return true;
}
