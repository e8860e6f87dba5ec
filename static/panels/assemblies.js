/**
 * Other ways to put the same lengths together, and whether play could carry the mount across.
 * @module panels/assemblies
 */

import { h } from "../values/shapes.js";
import { amount } from "../values/units.js";

/** @typedef {import("../core/store.js").State} State */

/** @param {State} state */
export function otherAssemblies({ assemblies: asked, mount, command, system }) {
  const found = asked?.mount === mount && asked.command === command ? asked : null;
  return [
    h(
      "button",
      {
        key: "look",
        type: "button",
        class: "wide-button",
        "data-action": "assemblies",
        "aria-pressed": found ? "true" : "false",
        disabled: found !== null && !found.answer,
      },
      found ? "put them away" : "look for them and draw them",
    ),
    ...(found?.answer ? said(found.answer, system) : found ? [h("p", { key: "wait", class: "said quiet" }, "…")] : []),
  ];
}

/** @param {Assemblies} answer @param {System} system */
function said({ count, others, starts }, system) {
  const carried = others.some((each) => each.carried);
  return [
    h(
      "p",
      { key: "count", class: "said", role: "status" },
      count === 1
        ? "These lengths go together in this way alone."
        : `These lengths go together in ${count} ways. The others are drawn thin.`,
    ),
    ...(carried
      ? [
          h("p", { key: "warning", class: "said assembly-warning" }, [
            h("span", { key: "sign", class: "sign", "aria-hidden": "true" }, "✗"),
            h("span", { key: "words" }, "Play alone could let it snap over: it stands close to a dead centre."),
          ]),
        ]
      : []),
    h(
      "ol",
      { key: "list", class: "assemblies", start: 2 },
      others.map(({ apart, across, carried: over }, index) =>
        h("li", { key: index, class: over ? "assembly-warning" : "" }, [
          h("span", { key: "apart" }, `an end ${amount(apart, "length", system)} away; `),
          h("span", { key: "across" }, acrossWords(across, over)),
        ]),
      ),
    ),
    h(
      "p",
      { key: "how", class: "said quiet" },
      `From ${starts} random starts. Play carries it over where, half way between, no member would have to give more ` +
        "than the play of its joints.",
    ),
  ];
}

/** @param {number|null} across @param {boolean} carried */
function acrossWords(across, carried) {
  if (across === null) return "a joint without play keeps it here";
  if (carried) return "play could carry it there";
  return `it would take ${across < 10 ? across.toFixed(1) : Math.round(across)} times its play`;
}
