/**
 * The same run over the variants of a mount: asked for one after the other, in one table.
 * @module pages/run/variants
 */

import { answerOf, said } from "../../core/server.js";
import { familyIn } from "../../document/families.js";
import { h } from "../../values/shapes.js";
import { DASH, amount } from "../../values/units.js";
import { fourOf, percent, seconds } from "./words.js";

/** @typedef {import("../../document/families.js").Variant} Variant */
/** @typedef {import("./mounts.js").Mounts} Mounts */
/** @typedef {{variant: Variant, title: string, made: RunSummed|null, refused: string}} Row */

/** Over so many seeds, where anything of the run is drawn at random. */
export const SEEDS = 32;

export class VariantRuns {
  /** @param {Mounts} mounts @param {() => void} changed told whenever there is more */
  constructor(mounts, changed) {
    this.mounts = mounts;
    this.changed = changed;
    /** Null before they were asked for. @type {Row[]|null} */
    this.rows = null;
    this.asking = 0;
  }

  /** Another run: what was found is no longer of it. */
  forget() {
    this.asking += 1;
    this.rows = null;
  }

  /**
   * Ask for the run of every variant.
   * @param {string|null} id of one of them @param {RunSettings} settings @param {System} system
   */
  async ask(id, settings, system) {
    if (this.rows) return;
    this.asking += 1;
    const { asking } = this;
    const stale = () => asking !== this.asking;
    this.rows = [];
    const entries = id === null ? [] : await answerOf("/library").catch(() => []);
    const family = id === null ? [] : familyIn(entries, id, this.mounts.shipped);
    if (stale()) return;
    this.rows = family.map((variant) => ({ variant, title: variant.title, made: null, refused: "" }));
    this.changed();
    for (const row of this.rows) {
      try {
        const mount = this.mounts.named(row.variant.id) ?? (await answerOf(`/library/${row.variant.id}`)).mount;
        const made = await answerOf("/run/summary", { mount, run: { ...settings, seeds: SEEDS } });
        if (stale()) return;
        row.made = made;
      } catch (error) {
        if (stale()) return;
        row.refused = said(error, system);
      }
      this.changed();
    }
  }
}

/** @typedef {{key: "time"|"rms"|"worst"|"inside", head: string, less: boolean}} Column */

/** @type {Column[]} */
const COLUMNS = [
  { key: "time", head: "to grade", less: true },
  { key: "rms", head: "rms", less: true },
  { key: "worst", head: "worst", less: true },
  { key: "inside", head: "inside", less: false },
];

/**
 * @param {Row[]|null} rows @param {(string|null)[]} shown what the sides show, by id
 * @param {{left: number, right: number}} start mm @param {System} system @returns {Shape[]}
 */
export function variantTable(rows, shown, start, system) {
  if (!rows) return [quiet("Running them …")];
  if (rows.length < 2)
    return [
      quiet("No variants of this mount in the library. Copy it on the sheet (Shift+V), change it, and come back."),
    ];
  const known = rows.map(({ made }) => (made ? fourOf(made, start) : null));
  const many = rows.some(({ made }) => made?.seeds);
  const best = COLUMNS.map(({ key, less }) => {
    const values = known.flatMap((each) => each?.[key] ?? []);
    return less ? Math.min(...values) : Math.max(...values);
  });
  return [
    h("table", { key: "variants", class: "ranked variant-runs" }, [
      h(
        "caption",
        { key: "caption" },
        many ? `means of ${SEEDS} seeds, worst of all of them; the best in bold` : "the same run; the best in bold",
      ),
      h("thead", { key: "head" }, [
        h("tr", {}, [
          h("td", { key: "title" }),
          ...COLUMNS.map(({ key, head }) => h("th", { key, scope: "col" }, head)),
        ]),
      ]),
      h(
        "tbody",
        { key: "body" },
        rows.map(({ variant, title, made, refused }, index) =>
          h("tr", { key: variant.id, "data-variant-run": title }, [
            h("th", { key: "title", scope: "row" }, [
              h(
                "button",
                {
                  key: "show",
                  type: "button",
                  class: "plain",
                  "data-variant": variant.id,
                  "aria-pressed": String(shown.includes(variant.id)),
                  title: "Show it as B, beside the other",
                },
                title,
              ),
            ]),
            ...(refused
              ? [h("td", { key: "refused", colspan: COLUMNS.length, class: "why" }, refused)]
              : COLUMNS.map(({ key }, column) => {
                  const value = known[index]?.[key] ?? null;
                  const words = made ? cell(key, value, system) : "…";
                  const attrs = { key, "data-number": key, "data-value": String(value ?? "") };
                  return h(
                    "td",
                    attrs,
                    value !== null && value === best[column] ? [h("b", { key: "b" }, words)] : words,
                  );
                })),
          ]),
        ),
      ),
    ]),
  ];
}

/** @param {string} words */
function quiet(words) {
  return h("p", { key: words, class: "quiet" }, words);
}

/** @param {Column["key"]} key @param {number|null} value @param {System} system */
function cell(key, value, system) {
  if (key === "time") return value === null ? "never" : seconds(value);
  if (value === null) return DASH;
  return key === "inside" ? percent(value) : amount(value, "error", system);
}
