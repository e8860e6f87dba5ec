/**
 * The path both ends have taken while a cylinder works: of the end it should move full, of the other, which should
 * stay, dashed and with what it travels.
 * @module sheet/marks/trace
 */

import { RANK, around } from "../labels.js";
import { label } from "../lettering.js";
import { h, through } from "../../values/shapes.js";
import { amount, decimals } from "../../values/units.js";
import { own } from "../../values/own.js";

/** @param {import("../scene.js").Scene} scene */
export function traces(scene) {
  const found = scene.traces;
  if (!found || found.length < 2) return [];
  const hue = `hue-${scene.hues.get(scene.chosen ?? "") ?? 7}`;
  const lead = own(scene.numbers?.actuators, scene.chosen)?.lead;
  return /** @type {const} */ (["left", "right"]).flatMap((end) => {
    const heights = found.map((each) => each[end][1]);
    const top = found[heights.indexOf(Math.max(...heights))][end];
    const travel = amount(Math.max(...heights) - Math.min(...heights), "error", scene.system, {
      digits: decimals("fine", scene.system),
    });
    const [x, y] = scene.pixel(top);
    const far = end !== lead;
    return [
      h("path", {
        key: end,
        d: through(found.map((each) => scene.pixel(each[end]))),
        class: `${hue} end-trace${far ? " far" : ""}`,
      }),
      label(
        travel,
        {
          name: `travel ${end}`,
          spots: around(
            [x, Math.max(y, 12)],
            end === "left" ? ["above right", "right", "above"] : ["above left", "left", "above"],
            [8, 1],
          ),
          rank: RANK.value,
          keep: true,
        },
        { key: `${end} travel`, class: far ? "travel far" : "travel" },
      ),
    ];
  });
}
