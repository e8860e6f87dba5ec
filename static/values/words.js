/**
 * The page's sentences: numbers put into plain trade English.
 * @module values/words
 */

import { endName, splitJoint } from "./joint.js";
import { filled } from "./messages.js";
import { amount, customs, decimals, number, unit } from "./units.js";
import { own } from "./own.js";

const ENDS = /** @type {const} */ (["left", "right"]);

/** What carries load. @typedef {Actuator & {force: number, pressure: number, load_ratio: number}} Loaded */

/** @param {number} coupling @param {System} system */
export function couplingWords(coupling, system) {
  const raised = customs(system).rise;
  const other = coupling * raised;
  const shown = amount(Math.abs(other), "error", system, { digits: decimals("fine", system) });
  const lift = `raise one end ${amount(raised, "length", system, { digits: 0 })}: the other`;
  if (Number(Math.abs(coupling).toFixed(2)) === 0) return `${lift} stays`;
  return `${lift} ${coupling < 0 ? "drops" : "rises"} ${shown}`;
}

/** Share of the linear sum by which the true worst must pass it to stand in its place. */
const PASSES = 1.02;

/**
 * The worst of an end as it is shown: the linear sum, or the true worst where that is known and passes it or decides.
 * @param {Budget} budget @param {Judged|null} judged the true worst and its verdict, once it is there
 * @param {EndName} end
 * @returns {{value: number, low: number, high: number, searched: boolean}} mm
 */
export function worstOf(budget, judged, end) {
  const { worst: linear, low, high } = budget[end];
  const found = judged?.worst?.[end];
  if (!found?.low || !found.high) return { value: linear, low, high, searched: false };
  const size = Math.max(Math.abs(found.low.value), Math.abs(found.high.value));
  const decides = budget.tolerance !== null && linear <= budget.tolerance && size > budget.tolerance;
  if (size <= PASSES * linear && !decides) return { value: linear, low, high, searched: false };
  return { value: size, low: Math.min(low, found.low.value), high: Math.max(high, found.high.value), searched: true };
}

/**
 * @param {Budget} budget @param {Judged|null} judged @param {System} system
 * @param {(reason: Message) => string} say a reason in words
 * @returns {{inside: boolean|null, words: string, end: EndName, value: number, searched: boolean}}
 */
export function verdict(budget, judged, system, say) {
  const [left, right] = [worstOf(budget, judged, "left"), worstOf(budget, judged, "right")];
  const end = left.value > right.value ? "left" : "right";
  const { value, searched } = end === "left" ? left : right;
  const inside = judged?.worst ? judged.inside : budget.inside;
  if (budget.tolerance === null)
    return { inside: null, words: `${end} end; no tolerance is set`, end, value, searched };
  const size = amount(Math.abs(budget.tolerance - value), "error", system);
  const why = judged?.absent?.inside;
  const words =
    inside === null
      ? `${end} end; not judged${why ? `: ${say(why)}` : ""}`
      : inside
        ? `inside, ${size} to spare: ${end} end`
        : `outside by ${size}: ${end} end`;
  return { inside, words, end, value, searched };
}

/** What is left when the ends are corrected one after the other. @param {Coupling} coupling */
export function inTurnWords({ residual, rounds, at }) {
  const left = Math.abs(residual ?? 0);
  const what =
    left < 0.05
      ? "each end on its own"
      : left <= 0.3
        ? "a touch-up"
        : left <= 0.9
          ? "chasing each other"
          : "hardly settles in turn";
  const many = rounds === null ? "never" : rounds === 1 ? "1 round" : `${rounds} rounds`;
  return `${what}, ${many}${at === "sensors" ? " (at the sensors)" : ""}`;
}

/**
 * How much of the load holds the play where it lies.
 * @param {Budget} budget @param {Mount} mount @param {System} system
 */
export function reversalWords(budget, mount, system) {
  const first = budget.reverses_at;
  if (!first || !mount.load) return "";
  const load = amount(Math.abs(first.multiple) * Math.hypot(...mount.load.force), "force", system);
  const back = first.multiple < 0 ? " the other way" : "";
  const joint = jointName(mount, first.joint);
  return `${joint} turns over at ${load}${back}`;
}

/** The cylinder that works hardest under the load. @param {Record<string, Actuator>} actuators */
export function hardest(actuators) {
  const loaded = /** @type {[string, Loaded][]} */ (
    Object.entries(actuators).filter(([, each]) => each.load_ratio !== null)
  );
  return loaded.length ? loaded.reduce((a, b) => (b[1].load_ratio > a[1].load_ratio ? b : a)) : null;
}

/** What the load alone does to a cylinder. @param {string} name @param {Loaded} actuator @param {System} system */
export function forceWords(name, actuator, system) {
  return (
    `${name} ${amount(Math.abs(actuator.force), "force", system)}, ` +
    `${amount(actuator.pressure, "pressure", system)} ${pushWord(actuator.force)}`
  );
}

/** @param {number} force N, + when pushed shorter */
function pushWord(force) {
  return force >= 0 ? "pushed" : "pulled";
}

/**
 * Where the weight keeps the other side of a cylinder pressed: what is left of the two together.
 * @param {Loaded} actuator @param {System} system
 */
export function withWeightWords({ force, weight_force: weight }, system) {
  const net = force + (weight ?? 0);
  if (weight === null || net * force >= 0) return "";
  const side = net >= 0 ? "cap" : "rod";
  return `with the weight ${amount(Math.abs(net), "force", system)} ${pushWord(net)}: the ${side} side stays pressed`;
}

/** What a source is called. @param {Mount} mount @param {Pick<BudgetSource, "id"|"member"|"kind">} source */
export function sourceName(mount, source) {
  if (source.kind === "allowance") {
    const [label, side] = splitJoint(source.id);
    const at = (mount.allowances ?? []).find((each) => each.label === label)?.at;
    return at === "ends" ? `${label}, ${side} end` : `${label}, ${side}`;
  }
  return source.kind === "clearance" ? jointName(mount, source.id) : `${source.id}, ${source.kind}`;
}

/** What a joint is called on every panel. @param {Mount} mount @param {string} joint as the readout names it */
export function jointName(mount, joint) {
  const [id, number] = splitJoint(joint);
  const member = mount.members.find((each) => each.id === id);
  if (!member?.ends || !number) return joint;
  return `${id}, ${endName(member, Number(number) - 1)}`;
}

/**
 * A message of the server's in the units shown, with joints called what they are called on the panels.
 * @param {import("./messages.js").Sentence} message @param {Mount} mount @param {System} system
 */
export function messageWords(message, mount, system) {
  return filled(message, system, (joint) => jointName(mount, joint));
}

/**
 * Why there is no number.
 * @param {{answered: Readout|null, refusal: object|null, mount: Mount, system: System}} state
 * @param {string} path
 */
export function reasonFor({ answered, refusal, mount, system }, path) {
  if (!answered) return refusal ? "the drawing must hold first" : "waiting for the first numbers";
  const reason = answered.absent[path] ?? answered.absent[path.split(".")[0]];
  return reason ? messageWords(reason, mount, system) : "not known";
}

/**
 * How the mount hangs or binds, which body can still move and how, or what would free it.
 * @param {Mobility} mobility
 * @param {string|null} [culprit] the member drawn or moved last: named first, if it takes part
 */
export function mobilityWords(mobility, culprit = null) {
  const ordered = (/** @type {string[]} */ members) =>
    [...members].sort((a, b) => Number(b === culprit) - Number(a === culprit));
  const many = mobility.redundant === 1 ? "one constraint" : `${mobility.redundant} constraints`;
  if (mobility.state === "loose") {
    const ways = mobility.freedom === 1 ? "one way" : `${mobility.freedom} ways`;
    const how = mobility.motion.length ? `: ${motionWords(mobility.motion)}` : "";
    const fight = mobility.redundant
      ? ` At the same time there ${mobility.redundant === 1 ? "is" : "are"} ${many} too many: some members ` +
        `hold the same thing twice.`
      : "";
    return `The mount hangs loose, it can still move ${ways}${how}. Add a member that holds it.${fight}`;
  }
  // Where the culprit is known, the others need no list.
  const briefly = (/** @type {string[]} */ names, link = "and") =>
    culprit !== null && names.includes(`'${culprit}'`) && names.length > 3
      ? `${names[0]} ${link} ${names.length - 1} others`
      : listed(names, link);
  const names = briefly(ordered(mobility.members).map((each) => `'${each}'`));
  const relief = mobility.redundant === 1 ? "would free it" : `would take one of the ${mobility.redundant} away`;
  const free = mobility.freeing.length
    ? `Taking out ${briefly(
        ordered(mobility.freeing).map((each) => `'${each}'`),
        "or",
      )} ${relief}.`
    : "Take members out until nothing fights.";
  return `The mount is bound, with ${many} too many: ${names} fight one another. ${free}`;
}

/**
 * What each body can still do, over all free motions.
 * @param {Mobility["motion"]} motions
 */
function motionWords(motions) {
  const said = Object.keys(motions[0]).flatMap((body) => {
    const rows = motions
      .map((motion) => motion[body])
      .filter((each) => Math.hypot(...each.shift) > 0.02 || Math.abs(each.turn) > 1e-4);
    const ways = independent(rows.map(({ shift, turn }) => [...shift, turn * (Math.PI / 180) * METRE]));
    if (!ways) return [];
    const turns = rows.some(({ shift, turn }) => Math.hypot(...shift) < 1e5 * Math.abs(turn) * (Math.PI / 180));
    if (ways === 1 && turns) return [`the ${body} can turn`];
    if (ways === 1)
      return [
        `the ${body} can shift ${Math.abs(rows[0].shift[0]) > Math.abs(rows[0].shift[1]) ? "sideways" : "up and down"}`,
      ];
    return [
      ways === 3
        ? `nothing holds the ${body}`
        : turns
          ? `the ${body} can turn and shift`
          : `the ${body} can shift any way`,
    ];
  });
  return listed(said);
}

/** How far out a turn is taken to move a body as much as a shift does, mm. */
const METRE = 1000;

/** How many of some rows of three are independent. @param {number[][]} rows */
function independent(rows) {
  /** @type {number[][]} */
  const found = [];
  for (const row of rows) {
    const left = found.reduce((rest, base) => {
      const along = rest.reduce((sum, value, index) => sum + value * base[index], 0);
      return rest.map((value, index) => value - along * base[index]);
    }, row);
    const size = Math.hypot(...left);
    if (size > 1e-3 * Math.hypot(...row)) found.push(left.map((value) => value / size));
  }
  return found.length;
}

/** @param {string[]} names @param {string} [last] */
function listed(names, last = "and") {
  const shown = names.length > 5 ? [...names.slice(0, 4), `${names.length - 4} more`] : names;
  return shown.length < 2 ? shown.join("") : `${shown.slice(0, -1).join(", ")} ${last} ${shown[shown.length - 1]}`;
}

/** @param {string} name @param {number} move mm @param {System} system */
export function moveWords(name, move, system) {
  const size = number(Math.abs(move), "error", system, { digits: decimals("error", system) });
  return { size: `${size} ${unit("error", system)}`, way: move < 0 ? "shorter" : "longer", name };
}

/**
 * Round parts so that what is shown adds up to the total that is shown: the largest remainders take the odd digits.
 * @param {number[]} parts of one sign
 * @param {number} digits
 * @returns {number[]} in units of the last digit shown
 */
export function apportion(parts, digits) {
  const unitSize = 10 ** -digits;
  const total = Math.round(parts.reduce((sum, part) => sum + part, 0) / unitSize);
  const floors = parts.map((part) => Math.floor(part / unitSize + 1e-9));
  let left = total - floors.reduce((sum, part) => sum + part, 0);
  const order = parts
    .map((part, index) => ({ index, rest: part / unitSize - floors[index] }))
    .sort((a, b) => b.rest - a.rest);
  for (const { index } of order) {
    if (left <= 0) break;
    floors[index] += 1;
    left -= 1;
  }
  return floors;
}

/** The short word for what the load does to the play of a source, behind its name. @param {BudgetSource} source */
export function playSuffix({ play }) {
  return play === null ? "" : play === "unknown" ? ", side not known" : `, ${play}`;
}

/** What the load does to the play of a joint. @type {Record<NonNullable<BudgetSource["play"]>, string>} */
const PLAY_WORDS = {
  held: "held: the load hardly moves it",
  moves: "the load moves it",
  "turns over": "the load turns it over",
  unknown: "the weight gives it no side",
};

/**
 * What load, weight and play do at a joint, a line each; nothing where the numbers do not hold.
 * @param {string} joint @param {Readout|null} numbers @param {Detailed|null|undefined} detail @param {System} system
 */
export function jointWords(joint, numbers, detail, system) {
  const force = own(numbers?.forces, joint);
  if (!numbers || !force) return [];
  const lines = [];
  const size = (/** @type {[number, number]} */ each) => amount(Math.hypot(each[0], each[1]), "force", system);
  const loads = [force.load && `load ${size(force.load)}`, force.weight && `weight ${size(force.weight)}`].filter(
    Boolean,
  );
  if (loads.length) lines.push(loads.join(", "));
  if (force.use !== null) {
    const stall = force.stall === null ? "" : `, at stall ${amount(force.stall, "force", system)}`;
    lines.push(
      `at most ${amount(force.worst, "force", system)}${stall}: ${Math.round(force.use * 100)} % of its rating`,
    );
  }
  const [left, right] = ENDS.map((end) =>
    numbers.budget?.[end].sources.find((each) => each.id === joint && each.kind === "clearance"),
  );
  if (left && right) {
    lines.push(`its play: left ±${number(left.high, "error", system)}, right ±${amount(right.high, "error", system)}`);
    if (left.play) lines.push(PLAY_WORDS[left.play]);
  }
  const allowed = own(detail?.wear?.joints, joint);
  if (allowed) lines.push(`alone it may wear to ${amount(allowed, "error", system)}`);
  return lines;
}

/**
 * The four headline numbers in words, a line each; of a mount that is not located, why.
 * @param {Readout} readout
 * @param {System} system
 */
export function readoutWords(readout, system) {
  if (!readout.budget) return [mobilityWords(readout.mobility)];
  const { coupling, budget, actuators, absent } = readout;
  const { words } = verdict(budget, null, system, (reason) => filled(reason, system, (joint) => joint));
  const most = hardest(actuators);
  const count =
    coupling.moves &&
    Math.max(
      ...Object.values(coupling.moves).map(
        (moves) => Object.values(moves).filter((move) => Math.abs(move) > 1e-6).length,
      ),
    );
  const why = (/** @type {string[]} */ ...paths) => {
    const reason = paths.map((path) => absent[path]).find(Boolean);
    return reason ? filled(reason, system) : "not known";
  };
  const unloaded = why("actuators.load_ratio", "actuators.force");
  const cylinders = count === 1 ? "1 cylinder" : `${count} cylinders`;
  return [
    `coupling ${coupling.worst === null ? why("coupling.worst") : number(coupling.worst, "ratio", system)}`,
    `worst edge error ${amount(Math.max(budget.left.worst, budget.right.worst), "error", system)}, ${words}`,
    `cylinder load ${most ? `${number(most[1].load_ratio, "ratio", system)} times the edge load` : unloaded}`,
    `to correct one end alone: ${count ? cylinders : why("coupling.moves")}`,
  ];
}
