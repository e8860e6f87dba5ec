/**
 * What stands below a picture of the sheet: a scale bar, and a title block in the manner of ISO 7200.
 * @module sheet/footer
 */

import { h, px, text } from "../values/shapes.js";

/** How high it is, in the drawing's own units. */
export const FOOTER_HEIGHT = 64;

const MARGIN = 14;
/** The least a field is wide, and how wide a letter of its words is at the most. */
const LEAST = 78;
const LETTER = 7.4;

/**
 * @typedef {{label: string, words: string}} Field
 * @typedef {import("../values/shapes.js").Shape} Shape
 */

/**
 * @param {Field[]} fields the title first, which takes the room that the others leave
 * @param {{length: number, words: string}} bar how long the scale bar is in the drawing's units, and what it stands for
 * @param {{width: number, top: number}} room
 * @param {{ink: string, faint: string}} colours
 * @returns {Shape[]}
 */
export function footer(fields, bar, room, colours) {
  const letters = { "font-family": "sans-serif", fill: colours.ink };
  const stroke = { fill: "none", stroke: colours.ink, "stroke-width": "1" };
  const [low, high] = [room.top + FOOTER_HEIGHT - MARGIN, room.top + MARGIN - 4];
  const shapes = [
    h("path", {
      key: "bar",
      d: `M${MARGIN} ${low - 12}v8h${px(bar.length)}v-8M${px(MARGIN + bar.length / 2)} ${low - 9}v5`,
      ...stroke,
    }),
    text([MARGIN, low - 18], bar.words, { key: "bar words", ...letters, "font-size": "12" }),
  ];
  const widths = fields.map(({ label, words }) =>
    Math.max(LEAST, LETTER * Math.max(words.length, 0.8 * label.length) + 14),
  );
  const start = MARGIN + bar.length + 2 * MARGIN;
  const free = room.width - MARGIN - start;
  const shrink = Math.min(1, free / widths.reduce((sum, each) => sum + each, 0));
  widths[0] += Math.max(0, free - widths.reduce((sum, each) => sum + each, 0));
  let x = start;
  fields.forEach(({ label, words }, index) => {
    const wide = widths[index] * shrink;
    shapes.push(
      h("path", { key: `cell ${label}`, d: `M${px(x)} ${high}h${px(wide)}V${low}h${px(-wide)}Z`, ...stroke }),
      text([x + 7, high + 15], label, {
        key: `label ${label}`,
        ...letters,
        fill: colours.faint,
        "font-size": px(10 * shrink),
      }),
      text([x + 7, high + 35], words, {
        key: `words ${label}`,
        ...letters,
        "font-size": px(13 * shrink),
        "font-weight": index ? "400" : "600",
      }),
    );
    x += wide;
  });
  return shapes;
}

/** The largest of 1, 2, 5, 10, 20 … that is not longer. @param {number} length */
export function roundBelow(length) {
  const power = 10 ** Math.floor(Math.log10(length));
  return power * ([5, 2].find((step) => step * power <= length) ?? 1);
}
