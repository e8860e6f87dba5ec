/**
 * What stands over and under each of the two drawings: which mount it is, and how it follows the command.
 * @module pages/compare/heads
 */

import { filled, asSentence } from "../../values/messages.js";
import { picker } from "../../panels/picker.js";
import { notices } from "../../panels/notices.js";
import { h } from "../../values/shapes.js";
import { amount } from "../../values/units.js";
import { moveWords } from "../../values/words.js";
import { ENDS, lifts } from "./ends.js";

/** @typedef {import("./side.js").Side} Side */
/** @typedef {import("../../values/shapes.js").Shape} Shape */

/**
 * @param {Side} side
 * @param {{name: string, mount: Mount}[]} shipped
 * @param {{id: string, title: string}[]} kept the user's own
 * @returns {Shape[]}
 */
export function head(side, shipped, kept) {
  const { mount, shipped: current } = side.store.state;
  const { name } = side;
  const [own, other] = name === "a" ? ["A", "B"] : ["B", "A"];
  return [
    h("div", { key: "title", class: "side-title" }, [
      h("span", { key: "tag", class: "side-tag" }, own),
      h("h2", { key: "words", title: mount.title }, mount.title),
      h("div", { key: "buttons", class: "side-buttons" }, [
        h(
          "button",
          {
            key: "take",
            type: "button",
            "data-action": "take-over",
            title: `Load, mass, tolerance, oil, valve, sensors and allowances of ${other}, put on ${own}`,
          },
          `take over ${other}'s loads`,
        ),
        h(
          "button",
          {
            key: "undo",
            type: "button",
            "data-action": "undo",
            disabled: !side.store.state.canUndo,
            "aria-label": `undo on ${own}`,
          },
          "undo",
        ),
        h(
          "button",
          { key: "sketch", type: "button", "data-action": "sketch", title: `Open ${own} on the sheet to change it` },
          "sketch it",
        ),
      ]),
    ]),
    h("div", { key: "picker", class: "side-picker" }, [
      h(
        "div",
        { key: "tiles", class: "tiles", role: "group", "aria-label": `shipped mounts for ${own}` },
        picker(shipped, current),
      ),
      h("select", { key: "own", "data-own": "", "aria-label": `your own mounts for ${own}` }, [
        h("option", { key: "none", value: "" }, "yours…"),
        ...kept.map((each) => h("option", { key: each.id, value: each.id }, each.title)),
        h("option", { key: "file", value: "file" }, "a file…"),
      ]),
    ]),
  ];
}

/**
 * Where the ends stand, by which strokes, and what could not be done.
 * @param {Side} side
 * @param {import("./ends.js").Heights} asked
 * @returns {Shape[]}
 */
export function following(side, asked) {
  const { state } = side.store;
  const readout = state.answered;
  if (!readout?.pose)
    return [
      h(
        "p",
        { key: "none", class: "said quiet" },
        side.state === "waiting" ? "waiting for the first numbers" : "no position while the drawing does not hold",
      ),
    ];
  const { system } = state;
  const now = lifts(readout, state.mount);
  const at = ENDS.map((end) =>
    h("span", { key: end, class: "lift" }, [
      h("span", { key: "w" }, `${end} end `),
      h(
        "output",
        { key: "v", "data-compare": `lift-${end}`, "data-side": side.name, "data-value": now[end] },
        amount(now[end], "error", system, { sign: true }),
      ),
    ]),
  );
  const trouble = cannot(side, readout, asked, now);
  return [
    h("p", { key: "at", class: "said" }, [
      ...at,
      h("span", { key: "by", class: "quiet" }, strokeWords(readout, system)),
    ]),
    ...(trouble ? [h("p", { key: "trouble", class: "said unmet", "data-unmet": side.name }, trouble)] : []),
  ];
}

/** @param {Located} readout @param {System} system */
function strokeWords(readout, system) {
  const moved = Object.entries(readout.pose.command).filter(
    ([, move]) => Math.abs(/** @type {number} */ (move)) > 0.0005,
  );
  if (!moved.length) return "cylinders as drawn";
  return moved
    .map(([id, move]) => {
      const words = moveWords(id, /** @type {number} */ (move), system);
      return `${id} ${words.size} ${words.way}`;
    })
    .join(", ");
}

/**
 * Why an end is not where it is asked to be.
 * @param {Side} side
 * @param {Located} readout
 * @param {import("./ends.js").Heights} asked
 * @param {import("./ends.js").Heights} now
 */
function cannot(side, readout, asked, now) {
  const { reach, system } = side.store.state;
  const off = ENDS.filter((end) => Math.abs(asked[end] - now[end]) > 0.005);
  if (!off.length || side.state === "waiting") return null;
  const { stopped } = readout.pose;
  const words = [];
  if (stopped) words.push(`${asSentence(filled(stopped, system))}.`);
  else if (!reach?.met) words.push("It does not come all the way.");
  const held = reach?.served ?? [];
  for (const end of off.filter((each) => !held.includes(each))) {
    const goes = amount(now[end], "error", system, { sign: true });
    const wanted = amount(asked[end], "error", system, { sign: true });
    if (Math.abs(now[end]) < 0.005) words.push(`Nothing can bring the ${end} end to ${wanted} on its own: it stays.`);
    else if (asked[end] === 0) words.push(`The ${end} end moves too, by ${goes}: ${oneWords(readout)}.`);
    else words.push(`The ${end} end goes ${goes} where ${wanted} was asked: ${oneWords(readout)}.`);
  }
  return words.join(" ");
}

/** @param {Located} readout */
function oneWords(readout) {
  const ids = Object.keys(readout.actuators);
  return ids.length === 1
    ? `${ids[0]} is the only cylinder and moves both ends`
    : "its cylinders move both ends in the same proportion";
}

/** What a side has to say: refused edits, warnings, a lost server. @param {Side} side @returns {Shape[]} */
export function sideNotices(side) {
  return notices(side.store.state).map((shape) => ({
    ...shape,
    kids: Array.isArray(shape.kids) ? shape.kids.filter((kid) => kid.tag !== "button") : shape.kids,
  }));
}

/**
 * In what the two are alike, and in what they differ.
 * @param {import("./differences.js").Difference[]} found
 * @param {string[]} said what was just taken over
 * @returns {Shape[]}
 */
export function differenceList(found, said) {
  const differ = found.filter((each) => !each.same);
  const same = found.filter((each) => each.same);
  const item = (/** @type {import("./differences.js").Difference} */ each) =>
    h("li", { key: each.group, "data-difference": each.group }, [
      h("b", { key: "l" }, `${each.label}: `),
      h("span", { key: "w" }, each.words),
      ...(each.same
        ? []
        : ["a", "b"].map((name) =>
            h(
              "button",
              {
                key: name,
                type: "button",
                class: "in-both",
                "data-both": name,
                "data-group": each.group,
                "aria-label": `${each.label} of ${name.toUpperCase()} in both`,
              },
              `${name.toUpperCase()}'s in both`,
            ),
          )),
    ]);
  return [
    h(
      "div",
      { key: "said", role: "status", class: "taken" },
      said.map((words, index) => h("p", { key: index, class: "said" }, words)),
    ),
    h(
      "h3",
      { key: "differ" },
      differ.length ? "Where they differ" : "Like for like: the same blade, load, tolerance and joint clearances",
    ),
    ...(differ.length ? [h("ul", { key: "list", class: "differing" }, differ.map(item))] : []),
    h("details", { key: "same", open: !differ.length }, [
      h("summary", { key: "s" }, `The same in both (${same.length})`),
      h("ul", { key: "list" }, same.map(item)),
    ]),
  ];
}
