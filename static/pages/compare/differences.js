/**
 * In what two mounts are alike and in what they differ, and how one takes over the loads of the other.
 * @module pages/compare/differences
 */

import { joints } from "../../document/joints.js";
import { loadSize, tidy } from "../../document/mount.js";
import { alike } from "../../document/places.js";
import { outward, unit } from "../../values/units.js";

/** @typedef {import("../../values/units.js").System} System */
/** @typedef {{group: string, label: string, same: boolean, words: string}} Difference */

/** What is said of each group of inputs. @type {Record<string, [string, (mount: any, system: System) => string]>} */
const GROUPS = {
  blade: ["Blade", bladeWords],
  mass: ["Mass", massWords],
  load: ["Load", loadWords],
  tolerance: [
    "Tolerance",
    (mount, system) => (mount.tolerance ? `±${exact(mount.tolerance, "error", system)}` : "none"),
  ],
  oil: ["Oil", oilWords],
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

/** So many joints are named one by one. */
const NAMED = 6;

/** What "take over the loads" takes. */
const TAKEN = ["mass", "load", "tolerance", "oil", "valve", "sensors", "allowances"];

/** @param {any} a @param {any} b @param {System} system @returns {Difference[]} */
export function differences(a, b, system) {
  const found = Object.entries(GROUPS).map(([group, [label, words]]) => {
    const same = alike(part(a, group), part(b, group));
    return { group, label, same, words: same ? words(a, system) : `A ${words(a, system)}; B ${words(b, system)}` };
  });
  return [...found, clearances(a, b, system)];
}

/** The inputs in which two mounts differ. @param {any} a @param {any} b @returns {Set<string>} */
export function unlike(a, b) {
  return new Set(
    differences(a, b, "metric")
      .filter((each) => !each.same)
      .map((each) => each.group),
  );
}

/** What a group says of one mount. @param {string} group @param {any} mount @param {System} system */
export function groupWords(group, mount, system) {
  return { label: GROUPS[group][0], words: GROUPS[group][1](mount, system) };
}

/**
 * A mount with the loads of another, and what that changed, in words.
 * @param {any} from @param {any} to @param {System} system @returns {{mount: any, changed: string[]}}
 */
export function takenOver(from, to, system) {
  let mount = to;
  const changed = [];
  for (const group of TAKEN) {
    const next = withPart(mount, group, carried(part(from, group), group, from.blade, to.blade));
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
 * @param {any} from @param {any} to @param {string} group
 */
export function withGroupOf(from, to, group) {
  if (group === "clearances") return withClearances(from, to);
  if (group !== "blade") return withPart(to, group, part(from, group));
  const { left, right } = from.blade;
  const end = ["left", "right"].find((each) => to.load && alike(to.load.at, to.blade[each]));
  return { ...to, blade: { ...to.blade, left, right }, ...(end ? { load: { ...to.load, at: from.blade[end] } } : {}) };
}

/** @param {any} from @param {any} to */
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
    members: to.members.map((/** @type {any} */ each) =>
      each.ends
        ? { ...each, ends: each.ends.map((/** @type {any} */ end) => ({ ...end, clearance: next.shift() })) }
        : { ...each, clearance: next.shift() },
    ),
  };
}

/** @param {any} mount @param {string} group */
function part(mount, group) {
  if (group === "blade") return { left: mount.blade.left, right: mount.blade.right };
  if (group === "mass")
    return mount.blade.mass === undefined
      ? undefined
      : { mass: mount.blade.mass, mass_centre: mount.blade.mass_centre };
  if (group === "allowances") return mount.allowances?.length ? mount.allowances : undefined;
  return mount[group];
}

/** @param {any} mount @param {string} group @param {any} value */
function withPart(mount, group, value) {
  if (group === "mass") {
    const { mass: _, mass_centre: __, ...blade } = mount.blade;
    return { ...mount, blade: { ...blade, ...defined(value ?? {}) } };
  }
  const { [group]: _, ...rest } = mount;
  return value === undefined ? rest : { ...rest, [group]: value };
}

/** @param {any} value @returns {any} */
function defined(value) {
  return Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined));
}

/**
 * A group's places carried to another blade: the same share of its width, as far above its edge.
 * @param {any} value
 * @param {string} group
 * @param {any} from
 * @param {any} to
 */
function carried(value, group, from, to) {
  if (value === undefined || alike({ l: from.left, r: from.right }, { l: to.left, r: to.right })) return value;
  const put = (/** @type {any} */ at) => at && carriedPoint(at, from, to);
  if (group === "load") return { ...value, at: put(value.at) };
  if (group === "mass") return { ...value, mass_centre: put(value.mass_centre) };
  if (group === "sensors") return { left: put(value.left), right: put(value.right) };
  return value;
}

/** @param {number[]} at @param {any} from @param {any} to */
function carriedPoint(at, from, to) {
  const [a, b] = [along(from), along(to)];
  const arm = [at[0] - from.left[0], at[1] - from.left[1]];
  const share = (arm[0] * a.u[0] + arm[1] * a.u[1]) / a.width;
  const above = arm[1] * a.u[0] - arm[0] * a.u[1];
  return [0, 1].map((axis) => tidy(to.left[axis] + share * b.width * b.u[axis] + above * (axis ? b.u[0] : -b.u[1])));
}

/** @param {any} blade */
function along(blade) {
  const [dx, dy] = [blade.right[0] - blade.left[0], blade.right[1] - blade.left[1]];
  const width = Math.hypot(dx, dy);
  return { width, u: [dx / width, dy / width] };
}

/**
 * Joint clearances: joint by joint where both have the same joints, else by what values there are.
 * @param {any} a
 * @param {any} b
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

/** @param {any} mount @param {System} system */
function bladeWords(mount, system) {
  const { left, right } = mount.blade;
  return (
    `${exact(tidy(Math.hypot(right[0] - left[0], right[1] - left[1])), "fine", system)} wide, left end at ` +
    `${place(left, system)}, right end at ${place(right, system)}`
  );
}

/** @param {any} mount @param {System} system */
function massWords(mount, system) {
  const { mass, mass_centre: centre } = mount.blade;
  if (!mass) return "not given";
  return `${exact(mass, "mass", system)}${centre ? ` at ${place(centre, system)}` : ", its centre not given"}`;
}

/** @param {any} mount @param {System} system */
function loadWords(mount, system) {
  if (!mount.load) return "none";
  const { size, degrees } = loadSize(mount.load);
  const way = degrees === 90 ? "upward" : degrees === -90 ? "downward" : `at ${outward(degrees, "angle", system)}°`;
  const end = ["left", "right"].find((each) => alike(mount.blade[each], mount.load.at));
  return `${exact(size, "force", system)} ${way} at ${end ? `the ${end} end` : place(mount.load.at, system)}`;
}

/** @param {any} mount @param {System} system */
function oilWords(mount, system) {
  if (!mount.oil) return "not given";
  const { bulk_modulus: stiff, relief_pressure: relief } = mount.oil;
  const set = relief ? `relief ${exact(relief, "pressure", system)}` : "no relief given";
  return `bulk modulus ${exact(stiff, "modulus", system)}, ${set}`;
}

/** @param {any} mount @param {System} system */
function allowanceWords(mount, system) {
  const all = mount.allowances ?? [];
  return all.length
    ? all
        .map((/** @type {any} */ each) => `${each.label} ±${exact(each.plus_minus, "error", system)} at the ${each.at}`)
        .join(", ")
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
  const shown = system === "inch" ? String(Number(Number(plain).toPrecision(6))) : plain;
  return `${shown.replace("-", "−")}\u00a0${unit(quantity, system)}`;
}
