/**
 * What a search may change, and what stays: boxes of pivots, bores and clearances to choose from, locks.
 * @module panels/free
 */

import { canMirror, freeAsked, freeCount, jointsOf, otherEnd, twinPlace } from "../document/free.js";
import { h } from "../values/shapes.js";
import { amount, customs, outward, unit } from "../values/units.js";
import { jointName } from "../values/words.js";
import { vocabulary } from "../values/vocabulary.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../document/wishes.js").Box} Box */
/** @typedef {import("../document/wishes.js").Choice} Choice */

/** @param {State} state @returns {Shape[]} */
export function free(state) {
  const { boxes, choices, locked } = state.wishes;
  const count = freeCount(freeAsked(state.mount, state.wishes));
  return [
    h(
      "p",
      { key: "sum", class: "said quiet" },
      count
        ? `${count} of at most ${vocabulary.search.free} numbers free; all else stays in a search.`
        : "Say what a search may move: everything else stays.",
    ),
    h("div", { key: "add", class: "free-add" }, [
      freeSelect(state),
      h(
        "button",
        {
          key: "draw",
          type: "button",
          "data-action": "boxing",
          "aria-pressed": String(state.boxing),
          title: "Drag a rectangle around a joint on the sheet",
        },
        state.boxing ? "now drag a rectangle round a joint" : "draw a box on the sheet",
      ),
    ]),
    h("ul", { key: "list", class: "free-list" }, [
      ...boxes.map((box, index) => boxRow(state, box, index)),
      ...choices.map((choice, index) => choiceRow(state, choice, index)),
    ]),
    h("div", { key: "locks", class: "locks" }, [
      lockSelect(state),
      ...locked.map((name) =>
        h(
          "button",
          { key: name, type: "button", "data-unlock": name, "aria-label": `unlock ${jointName(state.mount, name)}` },
          `${jointName(state.mount, name)} locked ×`,
        ),
      ),
    ]),
  ];
}

/**
 * @param {string} key @param {string} words @param {Record<string, string>} attrs
 * @param {[string, [string, string][]][]} groups
 */
function chooser(key, words, attrs, groups) {
  return h("select", { key, value: "", "aria-label": words, ...attrs }, [
    h("option", { key: "none", value: "" }, `${words}…`),
    ...groups
      .filter(([, entries]) => entries.length)
      .map(([label, entries]) =>
        h(
          "optgroup",
          { key: label, label },
          entries.map(([value, shown]) => h("option", { key: value, value }, shown)),
        ),
      ),
  ]);
}

/** @param {State} state */
function freeSelect({ mount, wishes }) {
  const joints = jointsOf(mount);
  const taken = new Set([...wishes.boxes.map((each) => each.joint), ...wishes.choices.map((each) => each.place)]);
  /** @type {(entries: [string, string, string][]) => [string, string][]} */
  const open = (entries) =>
    entries.filter(([, name]) => !taken.has(name)).map(([what, name, shown]) => [`${what} ${name}`, shown]);
  return chooser("free", "free", { "data-free": "" }, [
    ["a pivot, within a box", open(joints.map(({ name }) => ["box", name, jointName(mount, name)]))],
    [
      "a bore, of standard sizes",
      open(mount.members.filter((each) => each.kind === "cylinder").map(({ id }) => ["bore", `${id}.bore`, id])),
    ],
    ["a clearance, by fit", open(joints.map(({ name }) => ["fit", `${name}.clearance`, jointName(mount, name)]))],
  ]);
}

/** @param {State} state */
function lockSelect({ mount, wishes: { locked } }) {
  const open = (/** @type {string[]} */ names) =>
    names
      .filter((name) => !locked.includes(name))
      .map((name) => /** @type {[string, string]} */ ([name, jointName(mount, name)]));
  const ended = mount.members.filter((each) => each.ends).map((each) => each.id);
  return chooser("lock", "lock", { "data-lock": "", title: "Locked: suggestions leave it as it is" }, [
    ["whole members", open(ended)],
    ["joints", open(jointsOf(mount).map((each) => each.name))],
  ]);
}

/** @param {State} state @param {Box} box @param {number} index */
function boxRow(state, box, index) {
  const { mount, system } = state;
  const name = jointName(mount, box.joint);
  const other = otherEnd(mount, box.joint);
  return h("li", { key: `box ${box.joint}`, class: "free-row", "data-box": box.joint }, [
    h("span", { key: "name", class: "free-name" }, name),
    dropButton("data-drop-box", index, name),
    ...["x", "y"].map((axis) => rangeEntry(state, box, index, /** @type {"x"|"y"} */ (axis), name)),
    h("span", { key: "unit", class: "field-unit" }, unit("fine", system)),
    h("div", { key: "with", class: "free-with" }, [
      ...(canMirror(mount, { ...box, alike: true })
        ? [tick(`${index} alike`, "both sides alike", box.alike, "data-box-tick")]
        : []),
      ...(other
        ? [
            tick(
              `${index} whole`,
              `whole ${mount.members.find((each) => box.joint.startsWith(each.id))?.kind ?? ""}`,
              box.whole,
              "data-box-tick",
            ),
          ]
        : []),
    ]),
  ]);
}

/** @param {string} value @param {string} words @param {boolean} on @param {string} attribute */
function tick(value, words, on, attribute) {
  return h("button", { key: words, type: "button", class: "tick", [attribute]: value, "aria-pressed": String(on) }, [
    h("span", { key: "mark", "aria-hidden": "true" }, on ? "☑ " : "☐ "),
    h("span", { key: "words" }, words),
  ]);
}

/** @param {string} attribute @param {number} index @param {string} name */
function dropButton(attribute, index, name) {
  return h(
    "button",
    { key: "drop", type: "button", class: "drop", [attribute]: index, "aria-label": `${name} stays` },
    "×",
  );
}

/** @param {State} state @param {Box} box @param {number} index @param {"x"|"y"} axis @param {string} name */
function rangeEntry({ system }, box, index, axis, name) {
  const range = box[axis];
  return h("span", { key: axis, class: "free-range" }, [
    h("span", { key: "axis" }, axis),
    ...[0, 1].flatMap((end) => [
      ...(end ? [h("span", { key: "to", class: "quiet" }, "to")] : []),
      h("input", {
        key: end,
        type: "text",
        inputmode: "decimal",
        "data-range": `${index} ${axis} ${end}`,
        "data-quantity": "fine",
        placeholder: "stays",
        "aria-label": `${axis} of ${name}, ${end ? "to" : "from"}, ${unit("fine", system)}`,
        autocomplete: "off",
        value: range ? outward(range[end], "fine", system) : "",
      }),
    ]),
  ]);
}

/** @param {State} state @param {Choice} choice @param {number} index */
function choiceRow(state, choice, index) {
  const { mount, system } = state;
  const at = choice.place.lastIndexOf(".");
  const what = choice.place.slice(at + 1);
  const name = `${what} of ${jointName(mount, choice.place.slice(0, at))}`;
  const first = choice.choices[0];
  const last = choice.choices[choice.choices.length - 1];
  const measure = what === "bore" ? "fine" : "error";
  return h("li", { key: `choice ${choice.place}`, class: "free-row", "data-choice": choice.place }, [
    h("span", { key: "name", class: "free-name" }, name),
    dropButton("data-drop-choice", index, name),
    what === "bore"
      ? boreRange(state, choice, index, name)
      : h(
          "span",
          { key: "several", class: "free-range quiet" },
          `${choice.choices.length} fits, ${amount(first, measure, system)} to ${amount(last, measure, system)}`,
        ),
    h("div", { key: "with", class: "free-with" }, [
      ...(twinPlace(mount, choice.place)
        ? [tick(String(index), "both sides alike", choice.alike, "data-choice-tick")]
        : []),
    ]),
  ]);
}

/** @param {State} state @param {Choice} choice @param {number} index @param {string} name */
function boreRange(state, choice, index, name) {
  const sizes = state.sizes?.[customs(state.system).trade].bores ?? [];
  const ends = [choice.choices[0], choice.choices[choice.choices.length - 1]];
  return h("span", { key: "bores", class: "free-range" }, [
    ...[0, 1].map((end) =>
      h(
        "select",
        {
          key: end,
          "data-bores": `${index} ${end}`,
          "aria-label": `${name}, ${end ? "to" : "from"}`,
          value: String(ends[end]),
        },
        [
          ...(sizes.some(({ size }) => size === ends[end])
            ? []
            : [h("option", { key: "own", value: String(ends[end]) }, amount(ends[end], "fine", state.system))]),
          ...sizes.map(({ label, size }) => h("option", { key: size, value: String(size) }, label)),
        ],
      ),
    ),
  ]);
}
