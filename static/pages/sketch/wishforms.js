/**
 * What is typed and chosen of goals, of what is free and of a search: no part of the document, so nothing is asked.
 * @module pages/sketch/wishforms
 */

import { accept, refuse, refuseNumber } from "../../core/complaint.js";
import { taken } from "../../core/entry.js";
import { answerOf, said } from "../../core/server.js";
import { boxAbout, twinPlace, withBox } from "../../document/free.js";
import { withGoal } from "../../document/wishes.js";
import { customs, read } from "../../values/units.js";
import { vocabulary } from "../../values/vocabulary.js";

/** @typedef {import("../../core/entry.js").Entry} Entry */
/** @typedef {import("../../document/wishes.js").Wishes} Wishes */

/**
 * @param {import("../../core/store.js").Store} store
 * @returns {Record<string, (entry: Entry, what: string) => void>} by the attribute that says what a field is for
 */
export function wishForms(store) {
  /** @param {Entry} entry @param {(wishes: Wishes) => Partial<Wishes>} change */
  const wish = (entry, change) => {
    taken(entry);
    store.set(({ wishes }) => ({ wishes: { ...wishes, ...change(wishes) } }));
  };
  /** A typed number in document units; null where it is none, which is said beside it. @param {Entry} entry */
  const numberIn = (entry) => {
    const quantity = /** @type {import("../../values/units.js").Quantity} */ (entry.dataset.quantity);
    const value = read(entry.value, quantity, store.state.system);
    if (value === null) refuseNumber(entry);
    else accept(entry);
    return value;
  };
  return {
    goalMost: (entry, index) => {
      const most = numberIn(entry);
      if (most !== null && most < 0) refuse(entry, "A goal is how much there may be at most: write 0 or more");
      else if (most !== null) wish(entry, ({ goals }) => ({ goals: withGoal(goals, Number(index), { most }) }));
    },
    goalOver: (entry, index) => {
      const over = entry.value === "travel" ? "travel" : "pose";
      wish(entry, ({ goals }) => ({ goals: withGoal(goals, Number(index), { over }) }));
    },
    effort: (entry, what) => {
      const { fewest, most } = vocabulary.search;
      const value = numberIn(entry);
      const [low, high] = what === "budget" ? [fewest, most] : [0, MOST_SEED];
      if (value === null) return;
      if (!Number.isInteger(value) || value < low || value > high)
        refuse(entry, `A whole number from ${low} to ${high}`);
      else {
        taken(entry);
        store.set(({ effort }) => ({ effort: { ...effort, [what]: value } }));
      }
    },
    free: async (entry) => {
      const [what, ...rest] = entry.value.split(" ");
      const name = rest.join(" ");
      if (name) await setFree(entry, what, name);
    },
    lock: (entry) => {
      const name = entry.value;
      if (name) wish(entry, ({ locked }) => ({ locked: [...locked, name] }));
    },
    range: (entry, what) => {
      const [index, axis, end] = what.split(" ");
      const box = store.state.wishes.boxes[Number(index)];
      const key = /** @type {"x"|"y"} */ (axis);
      if (entry.value.trim() === "") {
        wish(entry, ({ boxes }) => ({ boxes: boxes.map((each) => (each === box ? { ...each, [key]: null } : each)) }));
        return;
      }
      const value = numberIn(entry);
      if (value === null) return;
      const range = withEnd(box[key], Number(end), value);
      if (!range) refuse(entry, "From must be less than to: write the other end first, or a number on its right side");
      else
        wish(entry, ({ boxes }) => ({ boxes: boxes.map((each) => (each === box ? { ...each, [key]: range } : each)) }));
    },
    bores: (entry, what) => {
      const [index, end] = what.split(" ").map(Number);
      const choice = store.state.wishes.choices[index];
      const ends = [choice.choices[0], choice.choices[choice.choices.length - 1]];
      ends[end] = Number(entry.value);
      const several = boresBetween(Math.min(...ends), Math.max(...ends));
      if (several.length < 2) refuse(entry, "A choice takes two sizes or more");
      else {
        accept(entry);
        setChoice(entry, { ...choice, choices: several });
      }
    },
  };

  /** Free a pivot, a bore or a clearance. @param {Entry} entry @param {string} what @param {string} name */
  async function setFree(entry, what, name) {
    const { mount, system, sizes } = store.state;
    if (what === "box") {
      const box = boxAbout(mount, name, system);
      if (box) wish(entry, ({ boxes }) => ({ boxes: withBox(mount, boxes, box) }));
    } else if (what === "bore") {
      const bores = sizes?.[customs(system).trade].bores.map(({ size }) => size) ?? [];
      const own = mount.members.find((each) => `${each.id}.bore` === name);
      const bore = own?.kind === "cylinder" ? own.bore : 0;
      const rod = own?.kind === "cylinder" ? own.rod : 0;
      const at = bores.findIndex((size) => size >= bore);
      const near = bores.slice(Math.max(at - 2, 0), at + 3).filter((size) => size > rod);
      setChoice(entry, { place: name, choices: near, alike: twinPlace(mount, name) !== null });
    } else {
      const wide = Math.hypot(...[0, 1].map((axis) => mount.blade.right[axis] - mount.blade.left[axis]));
      const away = (/** @type {UsualPin} */ pin) => Math.abs(pin.blade - wide);
      const [pin] = [...(sizes?.[customs(system).trade].pins ?? [])].sort((a, b) => away(a) - away(b));
      try {
        const fits = await answerOf(`/fits/${pin.size}`);
        const middles = fits.map(({ least, greatest }) => (least + greatest) / 2).filter((middle) => middle > 0);
        const several = [...new Set(middles)].sort((a, b) => a - b);
        setChoice(entry, { place: name, choices: several, alike: twinPlace(mount, name) !== null });
      } catch (error) {
        refuse(entry, said(error, store.state.system));
      }
    }
  }

  /** @param {Entry} entry @param {import("../../document/wishes.js").Choice} choice */
  function setChoice(entry, choice) {
    const { mount } = store.state;
    const twin = choice.alike ? twinPlace(mount, choice.place) : null;
    wish(entry, ({ choices }) => {
      const others = choices.filter((each) => each.place !== twin);
      const there = others.some((each) => each.place === choice.place);
      return {
        choices: there ? others.map((each) => (each.place === choice.place ? choice : each)) : [...others, choice],
      };
    });
  }

  /** The standard bores from one to another. @param {number} low @param {number} high */
  function boresBetween(low, high) {
    const { sizes, system } = store.state;
    const bores = sizes?.[customs(system).trade].bores ?? [];
    return bores.map(({ size }) => size).filter((size) => low <= size && size <= high);
  }
}

/**
 * A range with another end; one that is new is as wide as a step of its end.
 * @param {import("../../document/wishes.js").Range|null} range @param {number} end @param {number} value
 * @returns {import("../../document/wishes.js").Range|null} null where the ends would be the wrong way round
 */
function withEnd(range, end, value) {
  if (!range) return end ? [value - NEW_MM, value] : [value, value + NEW_MM];
  const [low, high] = end ? [range[0], value] : [value, range[1]];
  return low < high ? [low, high] : null;
}

const MOST_SEED = 2 ** 31;
/** How wide a range begins. */
const NEW_MM = 200;
