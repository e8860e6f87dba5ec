/**
 * What gives way under the frame and at a joint: springs for the tyres, a bent strip for a lug with a stiffness.
 * @module sheet/marks/springs
 */

import { handles } from "../../document/mount.js";
import { disc } from "../labels.js";
import { barring } from "../lettering.js";
import { explained, h, px } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

/** How far the springs stand under the lowest place of the edge, pixels. */
const BELOW = 46;
const COILS = "M0 -24V-18L-7 -15L7 -9L-7 -3L7 3L-7 9L0 12V17M-14 17H14M-12 23l6-6M-4 23l6-6M4 23l6-6";

/** @param {import("../scene.js").Scene} scene */
export function springs(scene) {
  return [...tyres(scene), ...lugs(scene)];
}

/** @param {import("../scene.js").Scene} scene */
function tyres(scene) {
  const { tyres: given, blade } = scene.mount;
  if (!given) return [];
  const low = Math.min(blade.left[1], blade.right[1]);
  const words = `tyre under the frame, ${amount(given.stiffness, "stiffness", scene.system)}`;
  return /** @type {const} */ (["left", "right"]).map((side) => {
    const [x, y] = scene.view.apply([given[side], low]);
    return barring(
      explained(
        `${side} ${words}`,
        h("path", {
          key: `tyre ${side}`,
          d: COILS,
          transform: `translate(${px(x)} ${px(y + BELOW)})`,
          class: "spring",
          "data-tyre": side,
        }),
      ),
      disc("foot", [x, y + BELOW], 20),
    );
  });
}

/** @param {import("../scene.js").Scene} scene */
function lugs(scene) {
  return handles(scene.mount).flatMap((each) => {
    const member = each.member;
    if (!member) return [];
    const part = member.ends ? member.ends[Number(each.name.split(" / ")[1]) - 1] : member;
    if (!part?.stiffness) return [];
    const [x, y] = scene.place(each.body, each.at);
    return [
      explained(
        `lug of ${amount(part.stiffness, "stiffness", scene.system)}`,
        h("path", {
          key: `lug ${each.name}`,
          d: "M-13 -4L-9 4L-5 -4L-1 4L3 -4L7 4L11 -4",
          transform: `translate(${px(x)} ${px(y - 15)})`,
          class: "spring",
          "data-lug": each.name,
        }),
      ),
    ];
  });
}
