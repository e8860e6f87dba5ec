/**
 * The variants of the mount under the sheet: every headline of each, and how the one on the sheet differs from it.
 * @module panels/variants
 */

import { shortened } from "../document/families.js";
import { h } from "../values/shapes.js";
import { DASH, amount, mmPerUnit, number, unit } from "../values/units.js";
import { hardest, messageWords, moveWords, verdict } from "../values/words.js";
import { own } from "../values/own.js";

/** @typedef {import("../values/shapes.js").Shape} Shape */
/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../core/variants.js").Variant} Variant */

/**
 * The headlines of one variant.
 * @typedef {Object} Headlines
 * @property {number|null} coupling of the chosen cylinder, or the worst
 * @property {number|null} residual
 * @property {number|null} worst mm
 * @property {boolean|null} inside
 * @property {number|null} loadRatio
 * @property {string} hardest the cylinder that works hardest
 * @property {number|null} moves how many cylinders correct the end
 * @property {string[]} moved which, and how far
 */

/** @param {State} state @returns {Shape[]} */
export function variantsRoom(state) {
  const { open, family, current } = state.variants;
  if (!open) return [];
  return [
    h("div", { key: "head", class: "variants-head" }, [
      h("h2", { key: "title" }, "Variants"),
      h("button", { key: "copy", type: "button", "data-action": "vary", title: "Shift + V" }, "copy as variant"),
      h("p", { key: "keys", class: "quiet" }, family.length > 1 ? WAYS : ALONE),
      h(
        "button",
        {
          key: "close",
          type: "button",
          class: "plain-close",
          "data-action": "variants",
          "aria-label": "put the variants away",
        },
        "×",
      ),
    ]),
    ...(family.length ? [table(state, family, current)] : []),
  ];
}

/** So many letters of a title have room. */
const ROOM = 26;
const WAYS = "The keys , and . switch; “here” is what is on the sheet, against that variant.";
const ALONE = "None yet: a copy stands here beside what it came from, with the four numbers of both.";

/** @param {State} state @param {Variant[]} family @param {string|null} current */
function table(state, family, current) {
  const { system, chosen, end } = state;
  const here = headlinesOf(state, state.answered, state.detail?.mount === state.mount ? state.detail.answer : null);
  const heads = [
    "variant",
    `coupling${chosen ? `, ${chosen}` : ""}`,
    "ends in turn",
    `worst edge error, ${unit("error", system)}`,
    "cylinder load",
    `to correct the ${end} end`,
  ];
  return h("table", { key: "table", class: "variants-table" }, [
    h("thead", { key: "head" }, [
      h(
        "tr",
        { key: "row" },
        heads.map((words, index) => h("th", { key: index, scope: "col" }, words)),
      ),
    ]),
    h(
      "tbody",
      { key: "body" },
      family.map((variant) => {
        const now = variant.id === current;
        const found = own(state.variants.found, variant.id);
        const numbers = now ? here : headlinesOf(state, found?.readout ?? null, found?.judged ?? null);
        return h("tr", { key: variant.id, class: now ? "now" : "", "data-variant-row": variant.id }, [
          nameCell(state, now ? { ...variant, title: state.mount.title } : variant, now),
          ...cells(state, numbers, now ? null : here),
        ]);
      }),
    ),
  ]);
}

/** @param {State} state @param {Variant} variant @param {boolean} now it is on the sheet */
function nameCell({ variants: { ghosts, found } }, { id, title, parent, revision }, now) {
  const shown = ghosts.includes(id);
  const drawn = !now && own(found, id)?.worked === false;
  const said = [
    now ? "on the sheet" : "",
    revision === 0 ? "shipped" : "",
    parent === null ? "" : `from ${parent}`,
    drawn ? "as drawn" : "",
  ].filter(Boolean);
  return h("th", { key: "name", scope: "row" }, [
    h("div", { key: "do", class: "variant-name-cell" }, [
      h(
        "button",
        { key: "take", type: "button", class: "variant-take", "data-variant": id, "aria-current": now ? "true" : null },
        shortened(title, ROOM),
      ),
      h(
        "button",
        {
          key: "ghost",
          type: "button",
          class: "variant-ghost-button",
          "data-ghost": id,
          "aria-pressed": shown ? "true" : "false",
          "aria-label": `ghost of ${title}`,
          title: now ? "Shown as a ghost when another is on the sheet" : "Show it as a ghost on the sheet",
        },
        "ghost",
      ),
    ]),
    h("p", { key: "said", class: "quiet", title: said.join(", ") }, said.join(", ")),
  ]);
}

/** @param {State} state @param {Headlines} each @param {Headlines|null} here what it is set against */
function cells({ system }, each, here) {
  /** @param {number|null|undefined} mine @param {number|null} theirs @param {Quantity} quantity */
  const difference = (mine, theirs, quantity) => {
    if (!here || mine === null || mine === undefined || theirs === null) return "";
    const shown = number(mine - theirs, quantity, system, { sign: true });
    return Number(shown.replace("−", "-")) === 0 ? "here the same" : `here ${shown}`;
  };
  const { coupling, residual, worst, inside, loadRatio, moves } = each;
  const judged = inside === null ? "" : inside ? "inside" : "outside";
  const percent = residual === null ? DASH : amount(residual, "percent", system);
  const times = loadRatio === null ? DASH : `${number(loadRatio, "ratio", system)} ×`;
  const cylinders = moves === null ? DASH : `${moves} ${moves === 1 ? "cylinder" : "cylinders"}`;
  return [
    cell("coupling", coupling, number(coupling, "ratio", system), [difference(here?.coupling, coupling, "ratio")]),
    cell("residual", residual, percent, [difference(here?.residual, residual, "percent")]),
    cell("worst", worst, number(worst, "error", system), [difference(here?.worst, worst, "error"), judged], judged),
    cell("load-ratio", loadRatio, times, [difference(here?.loadRatio, loadRatio, "ratio"), each.hardest]),
    cell("moves", moves, cylinders, each.moved),
  ];
}

/**
 * @param {string} name @param {number|null} value @param {string} shown
 * @param {string[]} said below it @param {string} [mark]
 */
function cell(name, value, shown, said, mark = "") {
  const words = said.filter(Boolean).join(", ");
  return h("td", { key: name, class: mark }, [
    h("output", { key: "value", class: "variant-value", "data-headline": name, "data-value": value ?? "" }, shown),
    h("p", { key: "said", class: "quiet", title: words }, words),
  ]);
}

/**
 * The headlines of a variant, as those of the readout are got.
 * @param {State} state @param {Readout|null} readout @param {Judged|null} judged @returns {Headlines}
 */
function headlinesOf({ system, chosen, end, mount }, readout, judged) {
  const { actuators, coupling, budget } = readout ?? {};
  const most = actuators ? hardest(actuators) : null;
  const found = budget ? verdict(budget, judged, system, (reason) => messageWords(reason, mount, system)) : null;
  const rise = mmPerUnit(system);
  const moves = Object.entries(coupling?.moves?.[end] ?? {}).filter(([, move]) => Math.abs(move) > 1e-6);
  const residual = coupling?.residual ?? null;
  return {
    coupling: own(actuators, chosen)?.coupling ?? coupling?.worst ?? null,
    residual: residual === null ? null : Math.abs(residual),
    worst: found?.value ?? null,
    inside: found?.inside ?? null,
    loadRatio: most?.[1].load_ratio ?? null,
    hardest: most?.[0] ?? "",
    moves: coupling?.moves ? moves.length : null,
    moved: moves.map(([name, move]) => {
      const { size, way } = moveWords(name, move * rise, system);
      return `${name} ${size} ${way}`;
    }),
  };
}
