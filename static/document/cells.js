/**
 * The table of all members as rows and columns of places in the document, and what is pasted or filled into it: every
 * cell is checked, and nothing is taken unless all of it can be.
 * @module document/cells
 */

import { jointId } from "../values/joint.js";
import { read } from "../values/units.js";
import { memberKind, numbersOf } from "../values/vocabulary.js";
import { alikeField } from "./mirror.js";
import { withValueAt } from "./places.js";
import { spannedEnd } from "./spans.js";
import { moved } from "./mount.js";

/** @typedef {import("../values/units.js").Quantity} Quantity */
/**
 * @typedef {Object} Cell
 * @property {string} place in the document; of a length, the joint that it moves
 * @property {Quantity|"words"|"span"} quantity span: how long a member is drawn
 * @property {string} label
 */
/** @typedef {{row: number, column: number, why: string}} Bad a cell of the table that cannot be taken, and why */

/**
 * The columns of a kind's table, by name.
 * @param {string} kind
 * @returns {{heads: string[], joint: number, own: number}} joint, own: columns where those of joints and members begin
 */
export function columnsOf(kind) {
  const { ends, joint_fields, fields } = memberKind(kind);
  const on = ends.length ? ["on"] : ["first", "second"];
  const joint = [...on, ...numbersOf(joint_fields).map(({ label }) => label)];
  const own = [...numbersOf(fields).map(({ label }) => label), ...(ends.length ? ["length"] : [])];
  return { heads: ["name", ...joint, ...own], joint: 1, own: 1 + joint.length };
}

/**
 * Every row of a kind's table; null where a cell above reaches down.
 * @param {Mount} mount @param {string} kind
 * @returns {(Cell|null)[][]}
 */
export function cellsOf(mount, kind) {
  const { joint_fields, fields, short_ends } = memberKind(kind);
  return mount.members.flatMap((member, index) => {
    if (member.kind !== kind) return [];
    const at = `members[${index}]`;
    return Array.from({ length: member.ends ? 2 : 1 }, (_, which) => {
      const joint = member.ends ? `${at}.ends[${which}]` : at;
      const of = member.ends ? `${short_ends[which]} of ${member.id}` : member.id;
      const on = member.ends ? ["on"] : ["joins[0]", "joins[1]"];
      /** @type {(Cell|null)[]} */
      const own = [
        ...numbersOf(fields).map(({ key, label, measure }) =>
          cell(`${at}.${key}`, measure, `${label} of ${member.id}`),
        ),
        ...(member.ends ? [cell(jointId(member.id, 2), "span", `length of ${member.id}`)] : []),
      ];
      return [
        which ? null : cell(`${at}.id`, "words", `name of ${member.id}`),
        ...on.map((key) => cell(`${joint}.${key}`, "words", `body of ${of}`)),
        ...numbersOf(joint_fields).map(({ key, label, measure }) =>
          cell(`${joint}.${key}`, measure, `${label} of ${of}`),
        ),
        ...own.map((each) => (which ? null : each)),
      ];
    });
  });
}

/** @param {string} place @param {Cell["quantity"]} quantity @param {string} label @returns {Cell} */
function cell(place, quantity, label) {
  return { place, quantity, label };
}

/** Lines and tabs of a spreadsheet. @param {string} text @returns {string[][]} */
export function linesOf(text) {
  return text
    .replace(/\r\n?/g, "\n")
    .replace(/\n+$/, "")
    .split("\n")
    .map((line) => line.split("\t").map((each) => each.trim()));
}

/**
 * The mount with lines put into a table from one cell on, to the right and down. What is empty stays as it was.
 * @param {import("../core/store.js").State} state @param {string} kind @param {{row: number, column: number}} from
 * @param {string[][]} lines
 * @returns {{mount: Mount}|{bad: Bad}}
 */
export function withCells(state, kind, from, lines) {
  const cells = cellsOf(state.mount, kind);
  let { mount } = state;
  /** @type {{place: string, length: number}[]} */
  const spans = [];
  for (const [down, line] of lines.entries()) {
    for (const [right, words] of line.entries()) {
      if (words === "") continue;
      const [row, column] = [from.row + down, from.column + right];
      const bad = (/** @type {string} */ why) => ({ bad: { row, column, why } });
      const found = cells[row]?.[column];
      const where = `line ${down + 1}, column ${right + 1}`;
      if (!found) return bad(`${where} of what was pasted, '${words}', has no cell to go to. Nothing was taken.`);
      const value = found.quantity === "words" ? words : read(words, measureOf(found.quantity), state.system);
      if (value === null || (found.quantity === "span" && Number(value) <= 0))
        return bad(`${where}: '${words}' is no number for the ${found.label}. Nothing was taken.`);
      if (found.quantity === "span") spans.push({ place: found.place, length: Number(value) });
      else mount = alikeField(state, withValueAt(mount, found.place, value), found.place);
    }
  }
  for (const { place, length } of spans) {
    const to = spannedEnd(mount, place, false, { length });
    if (to) mount = moved(mount, to.name, to.at);
  }
  return { mount };
}

/** @param {Quantity|"span"} quantity @returns {Quantity} */
function measureOf(quantity) {
  return quantity === "span" ? "fine" : quantity;
}

/**
 * One cell's words in all below it.
 * @param {import("../core/store.js").State} state @param {string} kind @param {{row: number, column: number}} from
 * @param {string} words
 * @returns {{mount: Mount}|{bad: Bad}}
 */
export function withFilledDown(state, kind, from, words) {
  const below = cellsOf(state.mount, kind).slice(from.row);
  return withCells(
    state,
    kind,
    from,
    below.map((row) => [row[from.column] ? words : ""]),
  );
}
