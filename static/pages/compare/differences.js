/**
 * In what two mounts are alike and in what they differ, and how one takes over the loads of the other.
 * @module pages/compare/differences
 */

import { joints } from "../../document/joints.js";
import { loadSize, tidy } from "../../document/mount.js";
import { alike } from "../../document/places.js";
import { mmPerUnit, outward, unit } from "../../values/units.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {"mass"|"load"|"tolerance"|"oil"|"tyres"|"valve"|"sensors"|"allowances"} Taken */
/** @typedef {"blade"|"weights"|"lugs"|Taken} Group */
/** @typedef {{group: string, label: string, same: boolean, words: string}} Difference */

/** What is said of each group of inputs. @type {Record<Group, [string, (mount: Mount, system: System) => string]>} */
const GROUPS = {
  blade: ["Blade", bladeWords],
  mass: ["Mass", massWords],
  weights: ["Weights of bodies", weightWords],
  load: ["Load", loadWords],
  tolerance: [
    "Tolerance",
    (mount, system) => (mount.tolerance ? `±${exact(mount.tolerance, "error", system)}` : "none"),
  ],
  oil: ["Oil", oilWords],
  tyres: ["Tyres", tyreWords],
  lugs: ["Lug stiffness", lugWords],
  valve: [
    "Valve",
    (mount, system) =>
      mount.valve
        ? `${exact(mount.valve.flow, "flow", system)}, smallest pulse ` +
          `${exact(mount.valve.smallest_pulse, "volume", system)}`
        : "not given",
  ],
  sensors: [
    "Sensors",
    (mount, system) =>
      mount.sensors ? `at ${place(mount.sensors.left, system)} and ${place(mount.sensors.right, system)}` : "none",
  ],
  allowances: ["Allowances", allowanceWords],
};

const ENDS = /** @type {const} */ (["left", "right"]);

/** So many joints are named one by one. */
const NAMED = 6;

/** What "take over the loads" takes. @type {Taken[]} */
const TAKEN = ["mass", "load", "tolerance", "oil", "tyres", "valve", "sensors", "allowances"];

/** @param {Mount} a @param {Mount} b @param {System} system @returns {Difference[]} */
export function differences(a, b, system) {
  const groups = /** @type {Group[]} */ (Object.keys(GROUPS));
  const found = groups.map((group) => {
    const [label, words] = GROUPS[group];
    const same = alike(part(a, group), part(b, group));
    return { group, label, same, words: same ? words(a, system) : `A ${words(a, system)}; B ${words(b, system)}` };
  });
  return [...found, clearances(a, b, system)];
}

/** The inputs in which two mounts differ. @param {Mount} a @param {Mount} b @returns {Set<string>} */
export function unlike(a, b) {
  return new Set(
    differences(a, b, "metric")
      .filter((each) => !each.same)
      .map((each) => each.group),
  );
}

/** Whether a mount has anything of a group. @param {Group} group @param {Mount} mount */
export function given(group, mount) {
  return part(mount, group) !== undefined;
}

/** What a group says of one mount. @param {Group} group @param {Mount} mount @param {System} system */
export function groupWords(group, mount, system) {
  return { label: GROUPS[group][0], words: GROUPS[group][1](mount, system) };
}

/**
 * A mount with the loads of another, and what that changed, in words.
 * @param {Mount} from @param {Mount} to @param {System} system @returns {{mount: Mount, changed: string[]}}
 */
export function takenOver(from, to, system) {
  const loads = carried(from, to.blade);
  let mount = to;
  const changed = [];
  for (const group of TAKEN) {
    const next = withPart(mount, group, loads);
    if (alike(part(next, group), part(mount, group))) continue;
    const [label, words] = GROUPS[group];
    changed.push(`${label}: was ${words(mount, system)}, now ${words(next, system)}`);
    mount = next;
  }
  return { mount, changed };
}

/**
 * A mount with one group of inputs as another has it. A blade taken over takes along what stood at an end of it;
 * clearances go joint by joint where both have the same joints, else the one that most of the other's joints have.
 * @param {Mount} from @param {Mount} to @param {string} group
 */
export function withGroupOf(from, to, group) {
  if (group === "clearances") return withClearances(from, to);
  if (group !== "blade") return withPart(to, /** @type {Taken} */ (group), from);
  const { left, right } = from.blade;
  const { load } = to;
  const end = load && ENDS.find((each) => alike(load.at, to.blade[each]));
  return {
    ...to,
    blade: { ...to.blade, left, right },
    ...(load && end ? { load: { ...load, at: from.blade[end] } } : {}),
  };
}

/** @param {Mount} from @param {Mount} to @returns {Mount} */
function withClearances(from, to) {
  const theirs = new Map(joints(from).map((each) => [each.label, each.clearance]));
  const values = [...theirs.values()];
  const often = (/** @type {number} */ value) => values.filter((each) => each === value).length;
  const usual = [...values].sort((a, b) => often(b) - often(a))[0] ?? 0;
  const labels = joints(to).map((each) => each.label);
  const kin = labels.length === theirs.size && labels.every((label) => theirs.has(label));
  const next = labels.map((label) => (kin ? theirs.get(label) : usual));
  return {
    ...to,
    members: to.members.map((each) =>
      each.ends
        ? { ...each, ends: each.ends.map((end) => ({ ...end, clearance: next.shift() })) }
        : { ...each, clearance: next.shift() },
    ),
  };
}

/** What a mount has of a group; where the document says null it has none. @param {Mount} mount @param {Group} group */
function part(mount, group) {
  if (group === "blade") return { left: mount.blade.left, right: mount.blade.right };
  if (group === "mass") return massOf(mount.blade);
  if (group === "weights") return weighed(mount);
  if (group === "lugs") return lugs(mount);
  if (group === "allowances") return mount.allowances?.length ? mount.allowances : undefined;
  return mount[group] ?? undefined;
}

/** @param {Blade} blade */
function massOf({ mass, mass_centre: centre }) {
  return typeof mass === "number" ? { mass, ...(centre ? { mass_centre: centre } : {}) } : undefined;
}

/**
 * A mount with a group as another has it.
 * @param {Mount} mount @param {Taken} group @param {Mount} from @returns {Mount}
 */
function withPart(mount, group, from) {
  if (group === "mass") {
    const { mass: _, mass_centre: __, ...blade } = mount.blade;
    return { ...mount, blade: { ...blade, ...massOf(from.blade) } };
  }
  const { [group]: _, ...rest } = mount;
  const value = part(from, group);
  return value === undefined ? rest : { ...rest, [group]: value };
}

/**
 * A mount with what it carries at another blade: the same share of its width, as far above its edge.
 * @param {Mount} mount
 * @param {Blade} to
 * @returns {Mount}
 */
function carried(mount, to) {
  const { blade: from, load, sensors } = mount;
  if (alike(from.left, to.left) && alike(from.right, to.right)) return mount;
  const put = (/** @type {Point} */ at) => carriedPoint(at, from, to);
  const centre = from.mass_centre;
  return {
    ...mount,
    ...(centre ? { blade: { ...from, mass_centre: put(centre) } } : {}),
    ...(load ? { load: { ...load, at: put(load.at) } } : {}),
    ...(sensors ? { sensors: { left: put(sensors.left), right: put(sensors.right) } } : {}),
  };
}

/** @param {Point} at @param {Blade} from @param {Blade} to @returns {[number, number]} */
export function carriedPoint(at, from, to) {
  const [a, b] = [along(from), along(to)];
  const arm = [at[0] - from.left[0], at[1] - from.left[1]];
  const share = (arm[0] * a.u[0] + arm[1] * a.u[1]) / a.width;
  const above = arm[1] * a.u[0] - arm[0] * a.u[1];
  return [
    tidy(to.left[0] + share * b.width * b.u[0] - above * b.u[1]),
    tidy(to.left[1] + share * b.width * b.u[1] + above * b.u[0]),
  ];
}

/** @param {Blade} blade */
function along(blade) {
  const [dx, dy] = [blade.right[0] - blade.left[0], blade.right[1] - blade.left[1]];
  const width = Math.hypot(dx, dy);
  return { width, u: [dx / width, dy / width] };
}

/**
 * Joint clearances: joint by joint where both have the same joints, else by what values there are.
 * @param {Mount} a
 * @param {Mount} b
 * @param {System} system
 * @returns {Difference}
 */
function clearances(a, b, system) {
  const [first, second] = [a, b].map((mount) => new Map(joints(mount).map((each) => [each.label, each.clearance])));
  const base = { group: "clearances", label: "Joint clearances" };
  const kin = first.size === second.size && [...first.keys()].every((name) => second.has(name));
  if (kin) {
    const off = [...first].filter(([name, value]) => second.get(name) !== value);
    if (off.length) {
      if (off.length > NAMED)
        return {
          ...base,
          same: false,
          words:
            `${off.length} joints: A ${valueWords(new Map(off), system, "one")}; B ` +
            `${valueWords(new Map(off.map(([name]) => [name, second.get(name) ?? 0])), system, "one")}`,
        };
      const each = off.map(
        ([name, value]) =>
          `${name} A ${exact(value, "error", system)}, B ${exact(second.get(name) ?? 0, "error", system)}`,
      );
      return { ...base, same: false, words: each.join("; ") };
    }
    return { ...base, same: true, words: valueWords(first, system) };
  }
  const values = [first, second].map((each) => [...new Set(each.values())].sort((x, y) => x - y));
  if (alike(values[0], values[1])) return { ...base, same: true, words: valueWords(first, system) };
  return { ...base, same: false, words: `A ${valueWords(first, system)}; B ${valueWords(second, system)}` };
}

/** @param {Map<string, number>} found @param {System} system @param {string} [noun] */
function valueWords(found, system, noun = "joint") {
  const values = [...found.values()];
  if (!values.length) return "no joints";
  const [least, most] = [Math.min(...values), Math.max(...values)];
  return least === most
    ? `${exact(least, "error", system)} in every ${noun}`
    : `${exact(least, "error", system)} to ${exact(most, "error", system)}`;
}

/** @param {Mount} mount @param {System} system */
function bladeWords(mount, system) {
  const { left, right } = mount.blade;
  return (
    `${exact(tidy(Math.hypot(right[0] - left[0], right[1] - left[1])), "fine", system)} wide, left end at ` +
    `${place(left, system)}, right end at ${place(right, system)}`
  );
}

/** @param {Mount} mount @param {System} system */
function massWords(mount, system) {
  const { mass, mass_centre: centre } = mount.blade;
  if (!mass) return "not given";
  return `${exact(mass, "mass", system)}${centre ? ` at ${place(centre, system)}` : ", its centre not given"}`;
}

/** @param {Mount} mount @param {System} system */
function loadWords(mount, system) {
  const { load, blade } = mount;
  if (!load) return "none";
  const { size, degrees } = loadSize(load);
  const way = degrees === 90 ? "upward" : degrees === -90 ? "downward" : `at ${outward(degrees, "angle", system)}°`;
  const end = ENDS.find((each) => alike(blade[each], load.at));
  const at = end ? `the ${end} end` : place(load.at, system);
  return `${exact(size, "force", system)} ${way} at ${at}${load.reversing ? ", both ways" : ""}`;
}

/** @param {Mount} mount @param {System} system */
function oilWords(mount, system) {
  if (!mount.oil) return "not given";
  const { bulk_modulus: stiff, relief_pressure: relief } = mount.oil;
  const set = relief ? `relief ${exact(relief, "pressure", system)}` : "no relief given";
  const { entrained_air: air, preloaded, trapped_pressure: trapped } = mount.oil;
  const more = [
    ...(air ? [`air ${exact(air, "percent", system)}`] : []),
    ...(preloaded ? [`trapped on both sides${trapped ? ` at ${exact(trapped, "pressure", system)}` : ""}`] : []),
  ];
  return [`bulk modulus ${exact(stiff, "modulus", system)}`, set, ...more].join(", ");
}

/** @param {Mount} mount @param {System} system */
function tyreWords({ tyres }, system) {
  if (!tyres) return "none: the frame stands fast";
  return (
    `at ${exact(tyres.left, "fine", system)} and ${exact(tyres.right, "fine", system)}, ` +
    `${exact(tyres.stiffness, "stiffness", system)} each`
  );
}

/** The bodies that weigh something. @param {Mount} mount */
function weighed(mount) {
  const found = (mount.bodies ?? []).flatMap((each) =>
    typeof each !== "string" && each.mass && each.mass_centre
      ? [{ name: each.name, mass: each.mass, at: each.mass_centre }]
      : [],
  );
  return found.length ? found : undefined;
}

/** @param {Mount} mount @param {System} system */
function weightWords(mount, system) {
  const words = weighed(mount)?.map(
    ({ name, mass, at }) => `${name} ${exact(mass, "mass", system)} at ${place(at, system)}`,
  );
  return words?.join(", ") ?? "none";
}

/** Stiffness of the lugs that have one, N/mm, by joint. @param {Mount} mount @returns {[string, number][]|undefined} */
function lugs(mount) {
  const found = joints(mount).filter((each) => each.stiffness);
  return found.length ? found.map((each) => [each.label, /** @type {number} */ (each.stiffness)]) : undefined;
}

/** @param {Mount} mount @param {System} system */
function lugWords(mount, system) {
  const found = lugs(mount);
  return found ? found.map(([name, size]) => `${name} ${exact(size, "stiffness", system)}`).join(", ") : "stiff";
}

/** @param {Mount} mount @param {System} system */
function allowanceWords(mount, system) {
  const all = mount.allowances ?? [];
  return all.length
    ? all.map((each) => `${each.label} ±${exact(each.plus_minus, "error", system)} at the ${each.at}`).join(", ")
    : "none";
}

/** @param {number[]} at @param {System} system */
export function place(at, system) {
  return `${outward(at[0], "fine", system)}, ${outward(at[1], "fine", system)}`.replaceAll("-", "−");
}

/**
 * A number of the document with as many digits as it has; in inches as many as matter.
 * @param {number} value
 * @param {import("../../values/units.js").Quantity} quantity
 * @param {System} system
 */
export function exact(value, quantity, system) {
  const plain = outward(value, quantity, system);
  const shown = mmPerUnit(system) === 1 ? plain : String(Number(Number(plain).toPrecision(6)));
  return `${shown.replace("-", "−")}\u00a0${unit(quantity, system)}`;
}
