/**
 * The four numbers that matter, of the mount on the sheet and of the ghost over it.
 * @module panels/ghostnumbers
 */

import { said } from "../core/server.js";
import { h } from "../values/shapes.js";
import { amount } from "../values/units.js";
import { hardest } from "../values/words.js";

/** @typedef {import("../values/units.js").Quantity} Quantity */

/** @type {[string, Quantity, (readout: Readout) => number|null|undefined][]} */
const ROWS = [
  ["coupling", "ratio", (readout) => readout.coupling?.worst],
  ["worst error, left", "error", (readout) => readout.budget?.left.worst],
  ["worst error, right", "error", (readout) => readout.budget?.right.worst],
  ["load ratio", "ratio", (readout) => readout.actuators && hardest(readout.actuators)?.[1].load_ratio],
];

/**
 * @param {import("../core/store.js").State} state @param {import("../core/ghosting.js").Ghost} ghost
 * @returns {Shape[]}
 */
export function ghostNumbers({ answered, system }, ghost) {
  if (ghost.error) return [h("p", { key: "ghost", class: "said" }, said(ghost.error, system))];
  const { readout } = ghost;
  if (!readout || !answered) return [h("p", { key: "ghost", class: "said quiet" }, "asking…")];
  return [
    h("table", { key: "ghost", class: "ghost-numbers" }, [
      h("caption", { key: "caption" }, "as it stands, by the linear sums; the ghost is dashed on the sheet"),
      h("thead", { key: "head" }, [
        h("tr", { key: "row" }, [
          h("td", { key: "what" }, ""),
          h("th", { key: "now", scope: "col" }, "now"),
          h("th", { key: "then", scope: "col" }, "then"),
        ]),
      ]),
      h(
        "tbody",
        { key: "body" },
        ROWS.map(([label, quantity, of]) =>
          h("tr", { key: label, "data-ghost": label }, [
            h("th", { key: "label", scope: "row" }, label),
            h("td", { key: "now" }, amount(of(answered), quantity, system)),
            h("td", { key: "then", "data-value": of(readout) ?? "" }, amount(of(readout), quantity, system)),
          ]),
        ),
      ),
    ]),
  ];
}
