/**
 * What the sums stand on: every input of the document, a row each.
 * @module pages/handout/inputs
 */

import { endName } from "../../values/joint.js";
import { exact, given, groupWords, place } from "../compare/differences.js";
import { h } from "../../values/shapes.js";
import { moveWords } from "../../values/words.js";

/** @typedef {import("./state.js").Printed} State */

const GROUPS = /** @type {const} */ (["blade", "mass", "load", "tolerance", "oil", "valve", "sensors", "allowances"]);
/** Those that stand there only where the document has them. */
const RARER = /** @type {const} */ (["weights", "tyres", "lugs"]);

/**
 * @param {State} state
 * @param {number} [fits] members there is room for
 * @returns {import("../../values/shapes.js").Shape[]}
 */
export function inputTable(state, fits = Infinity) {
  const { mount, system } = state;
  const named = mount.members.length > fits + 1 ? mount.members.slice(0, fits) : mount.members;
  const more = mount.members.length - named.length;
  const rows = [
    ...[...GROUPS, ...RARER.filter((group) => given(group, mount))].map((group) => groupWords(group, mount, system)),
    { label: "Position", words: commandWords(state) },
    ...named.map((member) => ({ label: member.id, words: memberWords(member, state) })),
    ...(more ? [{ label: `${more} ${named.length ? "more " : ""}members`, words: "as in the document" }] : []),
  ];
  return [
    h("table", { key: "inputs", class: "inputs" }, [
      h("thead", { key: "head" }, [
        h("tr", { key: "name" }, [h("th", { key: "n", colspan: 2, class: "table-name" }, "Inputs, as drawn")]),
      ]),
      h(
        "tbody",
        { key: "body" },
        rows.map(({ label, words }, index) =>
          h("tr", { key: index }, [h("th", { key: "l", scope: "row" }, label), h("td", { key: "w" }, words)]),
        ),
      ),
    ]),
  ];
}

/** @param {State} state */
function commandWords(state) {
  const command = state.answered.pose?.command ?? state.command;
  const moved = Object.entries(command).filter(([, move]) => Math.abs(/** @type {number} */ (move)) > 0.0005);
  if (!moved.length) return "cylinders as drawn";
  return moved
    .map(([id, move]) => {
      const words = moveWords(id, /** @type {number} */ (move), state.system);
      return `${id} ${words.size} ${words.way} than drawn`;
    })
    .join(", ");
}

/** @param {Member} member @param {State} state */
function memberWords(member, { system }) {
  const size = (/** @type {number} */ value, /** @type {import("../../values/units.js").Quantity} */ quantity) =>
    exact(value, quantity, system);
  const words = [];
  if (member.ends) {
    const [a, b] = member.ends;
    words.push(`${member.kind}, ${a.on} ${place(a.at, system)} to ${b.on} ${place(b.at, system)}`);
  } else {
    words.push(`${member.kind}, ${member.joins.join(" to ")} at ${place(member.at, system)}`);
    if (member.direction) words.push(`guide runs ${member.direction.join(", ").replaceAll("-", "−")}`);
  }
  if (member.kind === "cylinder")
    words.push(
      `bore ${size(member.bore, "fine")}, rod ${size(member.rod, "fine")}`,
      `closed ${size(member.retracted, "fine")}, stroke ${size(member.stroke, "fine")}`,
      ...(member.hose_volume ? [`hose ${size(member.hose_volume, "volume")}`] : []),
    );
  if (member.kind === "rod" && member.section_area && member.elastic_modulus)
    words.push(`section ${size(member.section_area, "area")}, E ${size(member.elastic_modulus, "modulus")}`);
  words.push(playWords(member, size));
  const rated = (member.ends ?? [member])
    .map((each, index) =>
      each.rating ? `${member.ends ? `${endName(member, index)} ` : ""}rated ${size(each.rating, "force")}` : "",
    )
    .filter(Boolean);
  return [...words, ...rated].join("; ");
}

/** @param {Member} member @param {(value: number, quantity: Quantity) => string} size */
function playWords(member, size) {
  const plays = (member.ends ?? [member]).map((each) => each.clearance ?? 0);
  return plays.length === 2 && plays[0] !== plays[1]
    ? `clearance ${size(plays[0], "error")} and ${size(plays[1], "error")}`
    : `clearance ${size(plays[0], "error")}`;
}
