/**
 * What the figures take for granted, and what they leave out.
 * @module pages/handout/ground
 */

import { given } from "../compare/differences.js";
import { h } from "../../values/shapes.js";
import { vocabulary } from "../../values/vocabulary.js";
import { reasonFor } from "../../values/words.js";

/** @type {[string, string][]} where the readout says why something is not counted, and what it is */
const LEFT_OUT = [
  .../** @type {[string, string][]} */ (
    vocabulary.sources.map((each) => [
      `budget.${each.kind}`,
      each.title.replace(/^./, (letter) => letter.toLowerCase()),
    ])
  ),
  ["forces.load", "forces under the load"],
  ["forces.weight", "forces under the weight"],
  ["budget.inside", "the verdict against a tolerance"],
];

/** @param {import("./state.js").Printed[]} states @returns {import("../../values/shapes.js").Shape[]} */
export function assumptions(states) {
  const names = states.length > 1 ? ["A: ", "B: "] : [""];
  const left = states.flatMap((state, index) =>
    LEFT_OUT.filter(([path]) => state.answered.absent[path]).map(
      ([path, words]) => `${names[index]}${words} (${reasonFor(state, path)})`,
    ),
  );
  const mounts = states.map((state) => state.mount);
  const giving = [
    ...(mounts.some((mount) => given("lugs", mount)) ? ["their lugs"] : []),
    ...(mounts.some((mount) => given("tyres", mount)) ? ["the frame on its tyres"] : []),
  ];
  const but = giving.length ? ` but for ${giving.join(" and ")}` : "";
  const bothWays = mounts.some((mount) => mount.load?.reversing);
  return [
    h("h2", { key: "h" }, "Assumptions"),
    h(
      "p",
      { key: "words" },
      `The mount is plane, seen from behind; bodies are rigid${but}, ` +
        "members weightless; each joint's play may lie anywhere in its clearance, the load anywhere from " +
        `${bothWays ? "full one way to full the other" : "none to full"}; errors are small against the mount and ` +
        "their effects add up. Dynamics, friction, wear, weld and frame flexibility are left out unless entered " +
        "as allowances.",
    ),
    ...(left.length ? [h("p", { key: "left" }, `Not counted here: ${left.join("; ")}.`)] : []),
  ];
}
