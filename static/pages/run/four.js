/**
 * Four big numbers of a run, a column a mount.
 * @module pages/run/four
 */

import { DASH, amount } from "../../values/units.js";
import { h } from "../../values/shapes.js";
import { fourOf, hunts, percent, seconds, sure } from "./words.js";

/**
 * @typedef {Object} Told
 * @property {"a"|"b"} name
 * @property {Pick<RunLive, "summary"|"seeds">|null} live with the summary once it is there
 * @property {number|null} tolerance mm
 * @property {number} largest error on the way as far as it is there, mm
 */

/**
 * @param {Told[]} sides @param {{left: number, right: number}} start mm @param {System} system
 * @param {boolean} quiz whether they are hidden
 * @returns {Shape[]}
 */
export function fourNumbers(sides, start, system, quiz) {
  const known = sides.map(({ live }) => (live ? fourOf(live, start) : null));
  const off = known.find((each) => each)?.disturbed ?? null;
  /** @type {[string, string, (index: number) => [string, string, string]][]} */
  const rows = [
    ["time-to-grade", "time to grade, both ends", (index) => time(sides[index], known[index])],
    [
      "other-end",
      off ? `what the ${off} end did meanwhile` : "largest error on the way",
      (index) => {
        const value = off ? known[index]?.other : known[index] && sides[index].largest;
        return [value === undefined || value === null ? DASH : amount(value, "fine", system), "", String(value ?? "")];
      },
    ],
    [
      "rms",
      "rms after settling, both ends",
      (index) => {
        const value = known[index]?.rms;
        return [value === undefined ? DASH : amount(value, "error", system), "", String(value ?? "")];
      },
    ],
    [
      "inside",
      "share of the way inside the tolerance",
      (index) => {
        const value = known[index]?.inside ?? null;
        const well = value === null ? "" : value > 0.9 ? "good" : value < 0.5 ? "bad" : "";
        return [percent(value), well, String(value ?? "")];
      },
    ],
  ];
  return rows.map(([key, label, value]) =>
    h("div", { key, class: "number" }, [
      h("p", { key: "label", class: "number-label" }, label),
      ...sides.map(({ name, live }, index) => {
        const [words, how, plain] = value(index);
        const hunting = key === "time-to-grade" && live?.summary ? hunts(live.summary, system) : "";
        const many = key === "rms" && live?.seeds ? sure(live.seeds, system) : "";
        return h(
          "p",
          { key: name, class: `number-value ${how}`, "data-run": key, "data-side": name, "data-value": plain },
          [
            h("span", { key: "tag", class: "side-tag" }, name.toUpperCase()),
            h("strong", { key: "value" }, quiz ? "?" : words),
            h("small", { key: "more", class: many ? "many" : "" }, quiz ? "" : hunting || many),
          ],
        );
      }),
    ]),
  );
}

/** @param {Told} side @param {import("./words.js").Four|null} known @returns {[string, string, string]} */
function time({ live, tolerance }, known) {
  if (!live?.summary || !known || tolerance === null) return [DASH, "", ""];
  if (known.time === null) return ["never", "bad", ""];
  return [seconds(known.time), "good", String(known.time)];
}
