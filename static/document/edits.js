/**
 * What the fields and buttons of the panels do to the document.
 * @module document/edits
 */

import { loadSize, loadTurned, tidy } from "./mount.js";
import { customs, inward } from "../values/units.js";
import { bodyNames, withMass, withoutMass } from "./bodies.js";
import { valueAt, withValueAt } from "./places.js";

/** Groups that the document takes only whole: what is typed waits until all of it is there. */
const WHOLE = { valve: ["flow", "smallest_pulse"] };

/**
 * @param {import("../core/store.js").State} state @param {string} place @param {unknown} value undefined takes it away
 * @returns {{mount: Mount, drafts: Record<string, unknown>}}
 */
export function withField(state, place, value) {
  const { mount, drafts } = state;
  if (place === "load/size" || place === "load/degrees") {
    if (!mount.load) return { mount, drafts };
    const { size, degrees } = loadSize(mount.load);
    const typed = /** @type {number|undefined} */ (value);
    const turned =
      place === "load/size" ? loadTurned(mount, degrees, typed ?? 0) : loadTurned(mount, typed ?? 90, size);
    return { mount: turned, drafts };
  }
  const [group, name] = place.split(".");
  const whole = /** @type {Record<string, string[]>} */ (WHOLE)[group];
  if (!whole) return { mount: withValueAt(mount, place, value), drafts };
  const waiting = { ...drafts, [place]: value };
  const values = Object.fromEntries(
    whole.map((each) => [
      each,
      each === name ? value : (drafts[`${group}.${each}`] ?? valueAt(mount, `${group}.${each}`)),
    ]),
  );
  const given = Object.values(values).filter((each) => each !== undefined).length;
  if (given !== whole.length) {
    const kept = Object.fromEntries(
      Object.entries({
        ...waiting,
        ...Object.fromEntries(whole.map((each) => [`${group}.${each}`, values[each]])),
      }).filter(([, each]) => each !== undefined),
    );
    return { mount: withValueAt(mount, group, undefined), drafts: kept };
  }
  const others = Object.fromEntries(Object.entries(drafts).filter(([each]) => !each.startsWith(`${group}.`)));
  return { mount: { ...mount, [group]: values }, drafts: others };
}

/**
 * What is added to a mount until it is entered, round in the user's units; `step`, mm, is what places come to.
 * @type {Record<Trade, {load: number, allowance: number, tyre: number, mass: number, step: number}>}
 */
const ADDED = {
  metric: { load: 1000, allowance: 1, tyre: 350, mass: 20, step: 1 },
  inch: {
    load: inward(250, "force", "inch"),
    allowance: inward(1 / 16, "error", "inch"),
    tyre: inward(2000, "stiffness", "inch"),
    mass: inward(50, "mass", "inch"),
    step: inward(1, "fine", "inch"),
  },
};

/** @param {Mount} mount @param {string} action @param {System} [system] the user's units @returns {Mount} */
export function withEdit(mount, action, system = "metric") {
  const added = ADDED[customs(system).trade];
  /** A share of the blade's width, round. @param {number} share */
  const wide = (share) => tidy(Math.round((share * (right[0] - left[0])) / added.step) * added.step);
  const { left, right } = mount.blade;
  const middle = [(left[0] + right[0]) / 2, (left[1] + right[1]) / 2];
  const allowances = mount.allowances ?? [];
  if (action.startsWith("remove-allowance-")) {
    const gone = Number(action.slice("remove-allowance-".length));
    return {
      ...mount,
      allowances: allowances.filter((_, index) => index !== gone),
    };
  }
  const [, change, index] = /^(add|remove)-mass-(\d+)$/.exec(action) ?? [];
  if (change) {
    const name = bodyNames(mount)[Number(index)];
    return change === "add" ? withMass(mount, name, added.mass) : withoutMass(mount, name);
  }
  switch (action) {
    case "add-mass-centre":
      return { ...mount, blade: { ...mount.blade, mass_centre: [middle[0], middle[1] + wide(0.08)] } };
    case "add-load":
      return { ...mount, load: { at: right, force: [0, added.load] } };
    case "reverse-load":
      return withValueAt(mount, "load.reversing", mount.load?.reversing ? undefined : true);
    case "preload-oil":
      return withPreload(mount);
    case "add-tyres": {
      const half = wide(0.35);
      return { ...mount, tyres: { left: middle[0] - half, right: middle[0] + half, stiffness: added.tyre } };
    }
    case "remove-tyres":
      return withValueAt(mount, "tyres", undefined);
    case "remove-load":
      return withValueAt(mount, "load", undefined);
    case "add-sensors":
      return {
        ...mount,
        sensors: {
          left: [left[0], left[1] + wide(0.7)],
          right: [right[0], right[1] + wide(0.7)],
        },
      };
    case "remove-sensors":
      return withValueAt(mount, "sensors", undefined);
    case "add-allowance":
      return {
        ...mount,
        allowances: [
          ...allowances,
          {
            label: freeName(
              "allowance",
              allowances.map((each) => each.label),
            ),
            plus_minus: added.allowance,
            at: "ends",
          },
        ],
      };
    default:
      return mount;
  }
}

/**
 * Oil trapped and pressed on both sides, or not; with air in it the pressure it is trapped at is needed.
 * @param {Mount} mount @returns {Mount}
 */
function withPreload(mount) {
  if (!mount.oil) return mount;
  const { preloaded, trapped_pressure: trapped, ...oil } = mount.oil;
  if (preloaded) return { ...mount, oil };
  const needed = oil.entrained_air ? { trapped_pressure: trapped ?? 1 } : {};
  return { ...mount, oil: { ...oil, preloaded: true, ...needed } };
}

/** The first name of a kind that is not taken. @param {string} stem @param {string[]} taken */
export function freeName(stem, taken) {
  let number = 1;
  while (taken.includes(`${stem} ${number}`)) number += 1;
  return `${stem} ${number}`;
}
