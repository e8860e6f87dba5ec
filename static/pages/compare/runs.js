/**
 * Both mounts over the same run: one sentence, the long sections at one scale, and the numbers.
 * @module pages/compare/runs
 */

import { filled } from "../../values/messages.js";
import { h } from "../../values/shapes.js";
import { amount, times } from "../../values/units.js";
import { messageWords } from "../../values/words.js";
import { sectionShapes } from "../run/section.js";
import { Series, largest } from "../run/series.js";
import { seconds } from "../run/words.js";
import { runChoices, chosen } from "./runchoice.js";
import { ratioWords, valueWords } from "./table.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */
/** @typedef {{found: RunsCompared, mounts: Mount[], system: System}} ShownRuns */

const NAMES = /** @type {const} */ (["a", "b"]);
/** @type {Record<EndName, EndName>} */
const OTHER = { left: "right", right: "left" };
const SIZE = { width: 640, height: 170 };
const REACH_MM = 8;

/**
 * @param {Omit<ShownRuns, "found"> & {found: RunsCompared|null, ready: ReadyRun[], run: RunSettings|null,
 *   wanted: import("./wanted.js").Wanted}} shown
 * @returns {Shape[]}
 */
export function runsShapes({ found, mounts, system, ready, run, wanted }) {
  return [
    h("div", { key: "head", class: "part-head" }, [
      h("h2", { key: "h" }, "Over the same run"),
      runChoices(chosen(ready, run, wanted)),
      h(
        "button",
        {
          key: "open",
          type: "button",
          "data-action": "run",
          title: "See it run, and change ground, receivers or valves",
        },
        "see it run",
      ),
    ]),
    ...(found ? ranParts({ found, mounts, system }) : []),
  ];
}

/** @param {ShownRuns} shown @returns {Shape[]} */
export function ranParts(shown) {
  return [
    h("p", { key: "run", class: "quiet run-words" }, `Both: ${described(shown.found.run, shown.system)}.`),
    h("p", { key: "sentence", class: "sentence", "data-run-sentence": "" }, sentenceOf(shown)),
    ...sections(shown),
    runTable(shown),
    ...notes(shown),
  ];
}

/** What was run, in a line. @param {RunsCompared["run"]} run @param {System} system */
export function described({ ground, start, speed, control, sensing, seeds, seconds: long, load }, system) {
  const ends = /** @type {const} */ (["left", "right"]).filter((end) => start[end]);
  const off = ends.map((end) => {
    const by = Number(start[end]);
    return `the ${end} end starts ${amount(Math.abs(by), "error", system)} too ${by < 0 ? "low" : "high"}`;
  });
  const under = ground.kind === "rough" ? `rough ground, class ${ground.class}` : GROUNDS[ground.kind];
  const late = amount((sensing.delay ?? 0) + (control.on_delay ?? 0), "time", system);
  const parts = [
    under,
    ...off,
    `${amount(speed, "pace", system)} for ${Math.round(long)}\u00a0s`,
    `${control.valve} valves, ${WAYS[control.way ?? ""]}, ${late} late`,
    `load ${load}`,
    ...(seeds > 1 ? [`the mean of ${seeds} tries, drawn is the first`] : []),
  ];
  return parts.join("; ");
}

const GROUNDS = { flat: "level ground", step: "a step", bump: "a bump or rut", waves: "waves" };
/** @type {Record<string, string>} */
export const WAYS = {
  "each its own": "each end with its own cylinder",
  decoupled: "both cylinders worked together",
  "one after the other": "one end after the other",
};

/** What came of it, in one sentence or two. @param {ShownRuns} shown */
export function sentenceOf(shown) {
  const { found, system } = shown;
  const unmade = NAMES.filter((name) => found[name].state === "not made");
  if (unmade.length)
    return `${unmade.map((name) => notMade(shown, name)).join(" ")} They are compared once both can be made.`;
  const begun = Boolean(found.run.start.left || found.run.start.right);
  const rows = Object.fromEntries(found.rows.map((row) => [row.name, row]));
  const first = begun ? timeWords(rows["run-time"], shown) : insideWords(rows["run-inside"], rows["run-rms"], system);
  const other = rows["run-other"];
  const meanwhile =
    found.off && other.a !== null && other.b !== null && !other.why
      ? ` Meanwhile the ${OTHER[found.off]} end moves ${amount(other.a, "error", system)} in A and ` +
        `${amount(other.b, "error", system)} in B.`
      : "";
  const hunting = NAMES.flatMap((name) => {
    const { hunting: hunts } = found[name];
    const by = hunts && amount(hunts.amplitude, "error", system);
    return hunts ? [` ${name.toUpperCase()} hunts, ±${by} every ${seconds(hunts.period)}.`] : [];
  });
  return `${first}${meanwhile}${hunting.join("")}`;
}

/** @param {ShownRuns} shown @param {"a"|"b"} name */
function notMade({ found, mounts, system }, name) {
  const why = found[name].why;
  const words = why ? messageWords(why, mounts[name === "a" ? 0 : 1], system) : "";
  return `${name.toUpperCase()} makes no run: ${words}.`;
}

/** @param {Compared} row @param {ShownRuns} shown */
function timeWords(row, { found, system }) {
  const { a, b } = row;
  if (found.a.state === "not judged" || found.b.state === "not judged")
    return "Without a tolerance nobody can say when an end is at grade.";
  if (a === null && b === null) return "Neither comes to grade to stay.";
  if (a === null || b === null) {
    const [one, other] = a === null ? ["B", "A"] : ["A", "B"];
    return `${one} comes to grade in ${seconds(Number(a ?? b))}; ${other} never stays there.`;
  }
  if (row.why) return `A comes to grade in ${seconds(a)}, B in ${seconds(b)}; not ranked: ${filled(row.why, system)}.`;
  if (row.better === "same") return `Both come to grade in about ${seconds(Math.max(a, b))}.`;
  const [quick, slow] = a < b ? ["A", "B"] : ["B", "A"];
  const longer = row.times ? `: ${times(row.times)} as long` : "";
  return `${quick} comes to grade in ${seconds(Math.min(a, b))}, ${slow} in ${seconds(Math.max(a, b))}${longer}.`;
}

/** @param {Compared} inside @param {Compared} rms @param {System} system */
function insideWords(inside, rms, system) {
  const row = inside.a !== null && inside.b !== null ? inside : rms;
  if (row.a === null || row.b === null) return "Nothing that can be compared came of it.";
  const [a, b] = [row.a, row.b].map((value) => valueWords(row, value, system));
  const what = row === inside ? "is inside the tolerance on" : "leaves an rms of";
  const way = row === inside ? " of the way" : "";
  if (row.why) return `A ${what} ${a}${way}, B on ${b}; not ranked: ${filled(row.why, system)}.`;
  if (row.better === "same") return `Both alike: A ${what} ${a}${way}, B ${b}.`;
  return row.better === "a" ? `A ${what} ${a}${way}, B ${b}.` : `B ${what} ${b}${way}, A ${a}.`;
}

/** Both long sections at one scale. @param {ShownRuns} shown @returns {Shape[]} */
function sections({ found, mounts, system }) {
  const made = NAMES.flatMap((name, index) => {
    const ran = found.ran[index];
    return ran ? [{ name, series: Series.of(ran), mount: mounts[index] }] : [];
  });
  const reach = Math.max(
    REACH_MM,
    ...made.map(({ mount }) => 2.2 * (mount.tolerance ?? 0)),
    ...made.map(({ series: { errors, ground } }) => {
      return 1.12 * largest(errors.left, errors.right, ground.left, ground.right);
    }),
  );
  return [
    ...made.map(({ name, series, mount }) =>
      h("figure", { key: `section ${name}`, class: "run-section", "data-side": name }, [
        h("figcaption", { key: "name" }, [
          h("span", { key: "tag", class: "side-tag" }, name.toUpperCase()),
          h("span", { key: "t" }, mount.title),
        ]),
        {
          tag: "svg",
          attrs: {
            key: "svg",
            viewBox: `0 0 ${SIZE.width} ${SIZE.height}`,
            role: "img",
            "aria-label": `both ends of ${name.toUpperCase()} off grade over the run`,
          },
          kids: sectionShapes({
            series,
            size: SIZE,
            seconds: found.run.seconds,
            speed: found.run.speed,
            reach,
            tolerance: mount.tolerance ?? null,
            now: null,
            letters: 11.5,
            system,
          }),
        },
      ]),
    ),
    h("p", { key: "legend", class: "run-legend" }, [
      h("span", { key: "left", class: "key left" }, "left end"),
      h("span", { key: "right", class: "key right" }, "right end"),
      h("span", { key: "before", class: "key before" }, "ground before, under the blade"),
      h("span", { key: "band", class: "key band" }, "tolerance"),
    ]),
  ];
}

/** @param {ShownRuns} shown */
export function runTable(shown) {
  const { found, mounts, system } = shown;
  const rows = found.rows.filter((row) => row.name !== "run-other" || found.off);
  return h("table", { key: "table", class: "comparison" }, [
    h("thead", { key: "head" }, [
      h("tr", { key: "row" }, [
        h("th", { key: "what", scope: "col" }, "What it comes to"),
        h("th", { key: "a", scope: "col", class: "of-side" }, "A"),
        h("th", { key: "b", scope: "col", class: "of-side" }, "B"),
        h("th", { key: "words", scope: "col" }, "one to the other"),
      ]),
    ]),
    h(
      "tbody",
      { key: "body" },
      rows.map((row, index) =>
        h("tr", { key: row.name, "data-row": row.name }, [
          h("th", { key: "what", scope: "row" }, row.label),
          ...NAMES.map((name, side) => {
            const missing = row.missing[side];
            return h(
              "td",
              {
                key: name,
                class: `of-side ${row.better === name ? "ahead" : ""}`,
                title: missing ? messageWords(missing, mounts[side], system) : null,
              },
              [
                h(
                  "output",
                  { key: "v", "data-compare": row.name, "data-side": name, "data-value": row[name] ?? "" },
                  row[name] === null && missing?.code === "never" ? "never" : valueWords(row, row[name], system),
                ),
              ],
            );
          }),
          h(
            "td",
            { key: "words", "data-ratio": row.name, "data-better": row.better ?? "" },
            row.why && rows.slice(0, index).some(({ why }) => why?.code === row.why?.code)
              ? "not ranked, as above"
              : ratioWords(row, shown),
          ),
        ]),
      ),
    ),
  ]);
}

/** What the model has to say of either. @param {ShownRuns} shown @returns {Shape[]} */
function notes({ found, system }) {
  return [
    ...NAMES.flatMap((name, index) =>
      (found.ran[index]?.notes ?? []).map((note) =>
        h("p", { key: `${name} ${note.code}`, class: "quiet" }, `${name.toUpperCase()}: ${filled(note, system)}.`),
      ),
    ),
    h(
      "p",
      { key: "left out", class: "quiet" },
      "Reckoned as a row of poses: dynamics of machine and tyres, the soil's resistance and the operator are left out.",
    ),
  ];
}
