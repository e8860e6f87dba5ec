/**
 * A sum against the tolerance, drawn: its parts one after the other along the band that is asked for.
 * @module panels/boards/band
 */

import { cue, hueOfKind } from "../../values/cues.js";
import { h, line, px } from "../../values/shapes.js";

const [WIDTH, HEIGHT, TOP, FOOT] = [600, 62, 12, 50];
const ROOM = 1.06;

/** @param {import("../../core/sums.js").Band} band @returns {Shape} */
export function bandShape({ parts, whole, tolerance, words }) {
  const scale = WIDTH / (Math.max(whole, tolerance ?? 0, 1e-9) * ROOM);
  let from = 0;
  const pieces = parts.map(({ kind, size }) => {
    const place = { x: px(from * scale), width: px(size * scale), y: TOP, height: FOOT - TOP };
    from += size;
    return { kind, place };
  });
  const asked = tolerance === null ? [] : [tolerance * scale];
  return h(
    "svg",
    { key: "band", class: "wall-band", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": words },
    [
      ...asked.map((x) =>
        h("rect", { key: "asked", x: 0, y: 2, width: px(x), height: HEIGHT - 4, class: "wall-asked" }),
      ),
      ...pieces.flatMap(({ kind, place }, index) => [
        h("rect", { key: `r${index}`, ...place, class: `wall-part hue-${hueOfKind(kind)}` }),
        cue(kind, { key: `c${index}`, ...place }),
      ]),
      ...(tolerance !== null && from > tolerance
        ? [
            h("rect", {
              key: "over",
              x: px(tolerance * scale),
              width: px((from - tolerance) * scale),
              y: FOOT - 5,
              height: 5,
              class: "wall-over",
            }),
          ]
        : []),
      ...asked.map((x) => line([x, 0], [x, HEIGHT], { key: "edge", class: "wall-edge" })),
      line([0, 0], [0, HEIGHT], { key: "zero", class: "wall-zero" }),
    ],
  );
}
