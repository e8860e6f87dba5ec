/**
 * Held dimensions on the panels: the picked one in the place of a picked joint, and all of them among the numbers.
 * @module panels/held
 */

import { WAYS, dimensionWords, heldDistance } from "../document/dimensions.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";
import { choice } from "./fields.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/shapes.js").Shape} Shape */

/** The size of a dimension, to type. @param {State} state @param {number} index */
function sizeEntry(state, index) {
  const dimension = (state.mount.dimensions ?? [])[index];
  const measured = unit("fine", state.system);
  return [
    h("input", {
      key: "input",
      type: "text",
      inputmode: "decimal",
      "data-held": index,
      "aria-label": `held ${dimensionWords(dimension)}, ${measured}`,
      autocomplete: "off",
      value: outward(heldDistance(state.mount, dimension), "fine", state.system),
    }),
    h("span", { key: "unit", class: "field-unit" }, measured),
  ];
}

/** @param {number} index @param {string} name */
function release(index, name) {
  return h(
    "button",
    {
      key: "release",
      type: "button",
      "data-release": index,
      "aria-label": `let ${name} go`,
      title: "Hold it no longer",
    },
    "let it go",
  );
}

/** @param {State} state @param {number} index @returns {Shape[]} */
export function pickedDimension(state, index) {
  const dimension = (state.mount.dimensions ?? [])[index];
  const words = `held ${dimensionWords(dimension)}`;
  return [
    h("header", { key: "head" }, [
      h("h2", { key: "name", title: words }, words),
      release(index, words),
      h("button", { key: "close", type: "button", "data-action": "unpick", "aria-label": "let go" }, "×"),
    ]),
    h("div", { key: `places dimension ${index}`, class: "places" }, [
      h("label", { key: "size", class: "field" }, [
        h("span", { key: "label", class: "field-label" }, "size"),
        ...sizeEntry(state, index),
      ]),
      h("label", { key: "way", class: "field" }, [
        h("span", { key: "label", class: "field-label" }, "held"),
        wayChoice(state, index),
      ]),
      h("span", { key: "rule", class: "quiet" }, "a typed size moves the second joint"),
    ]),
  ];
}

/** @param {State} state @param {number} index */
function wayChoice(state, index) {
  return choice(
    state,
    `dimensions[${index}].way`,
    `what dimension ${index + 1} holds`,
    WAYS.map(({ way, words }) => [way, words]),
  );
}

/** All held dimensions. @param {State} state @returns {Shape[]} */
export function dimensionList(state) {
  const dimensions = state.mount.dimensions ?? [];
  if (!dimensions.length)
    return [
      h(
        "p",
        { key: "none", class: "said quiet" },
        "None. Take the tool hold and tap two joints: what lies between them stays while others are moved.",
      ),
    ];
  return dimensions.map((dimension, index) =>
    h("div", { key: `${index} ${dimensionWords(dimension)}`, class: "field held-row" }, [
      h("span", { key: "label", class: "field-label" }, dimensionWords(dimension)),
      ...sizeEntry(state, index),
      release(index, dimensionWords(dimension)),
    ]),
  );
}

/** What the tool would hold: the distance, or a part of it. @param {State} state */
export function wayRow(state) {
  if (state.tool !== "hold") return [];
  return [
    h("div", { key: "way", class: "tool-row", role: "group", "aria-label": "hold" }, [
      h("span", { key: "label", class: "quiet" }, "hold"),
      ...WAYS.map(({ way, words }) =>
        h(
          "button",
          { key: way, type: "button", "data-way": way, "aria-pressed": state.way === way ? "true" : "false" },
          words,
        ),
      ),
    ]),
  ];
}
