/**
 * What marks describe of their words, and the shapes with the words in their places.
 * @module sheet/lettering
 */

import { h, px } from "../values/shapes.js";
import { places } from "./labels.js";

/** @typedef {import("../values/shapes.js").Shape} Shape */
/** @typedef {import("./labels.js").Wanted} Wanted */
/** @typedef {import("./labels.js").Place} Place */
/** @typedef {import("./labels.js").Size} Size */
/** @typedef {import("./labels.js").Obstacle} Obstacle */

/**
 * How large a text is: its width, and how far it reaches above and below its line.
 * @callback Measure
 * @param {string} words
 * @param {string} layer class of the layer it stands in
 * @param {string} marks classes of its own
 * @returns {{width: number, ascent: number, descent: number}} pixels
 */

/**
 * What is wanted of a shape that is no shape before it has its place.
 * @typedef {Object} Asked
 * @property {Wanted} wanted
 * @property {string[]} said what it may say, the fullest first
 * @property {Size|null} size of what is no text
 * @property {((place: Place) => Shape[])|null} draw what stands there when it is no text
 */

/** @typedef {Shape & {asked?: Asked, bars?: Obstacle[]}} Marked a shape with what it asks of the sheet */

/**
 * A text that asks for a place.
 * @param {string|string[]} words what it says, or the fullest of several wordings first
 * @param {Wanted} wanted @param {import("../values/shapes.js").Attributes} attrs
 * @param {Shape[]} [parts] what it is made of, where it is more than words
 * @returns {Shape}
 */
export function label(words, wanted, attrs, parts = []) {
  const said = Array.isArray(words) ? words : [words];
  return /** @type {Marked} */ ({ tag: "text", attrs, kids: parts, asked: { wanted, said, size: null, draw: null } });
}

/**
 * Anything else of a known size that asks for a place.
 * @param {Size} size @param {Wanted} wanted @param {(place: Place) => Shape[]} draw @returns {Shape}
 */
export function plate(size, wanted, draw) {
  return /** @type {Marked} */ ({ tag: "g", attrs: {}, kids: [], asked: { wanted, said: [], size, draw } });
}

/** A shape that texts keep off. @param {Shape} shape @param {Obstacle[]} bars @returns {Shape} */
export function barring(shape, ...bars) {
  return /** @type {Marked} */ ({ ...shape, bars });
}

/**
 * The layers with every text in its place.
 * @param {Shape[]} layers
 * @param {Size} room
 * @param {Measure} measure
 * @param {Map<string, Place>} [before] the places of the last picture
 * @returns {{layers: Shape[], places: Map<string, Place>}}
 */
export function lettered(layers, room, measure, before) {
  /** @type {(import("./labels.js").Sized & {ascents: number[]})[]} */
  const wanted = [];
  /** @type {Obstacle[]} */
  const bars = [];
  for (const layer of layers) gather(layer, String(layer.attrs.class), measure, wanted, bars);
  const found = places(wanted, bars, room, before);
  const ascents = new Map(wanted.map((each) => [each.name, each.ascents]));
  return { layers: layers.map((layer) => written(layer, found, ascents)), places: found };
}

/**
 * @param {Marked} shape @param {string} layer @param {Measure} measure
 * @param {(import("./labels.js").Sized & {ascents: number[]})[]} wanted @param {Obstacle[]} bars
 */
function gather(shape, layer, measure, wanted, bars) {
  if (shape.bars) bars.push(...shape.bars);
  if (shape.asked) {
    const { said, size, wanted: what } = shape.asked;
    const sizes = said.map((words) => measure(words, layer, String(shape.attrs.class)));
    wanted.push({
      ...what,
      sizes: size ? [size] : sizes.map(({ width, ascent, descent }) => ({ width, height: ascent + descent })),
      ascents: sizes.map(({ ascent }) => ascent),
    });
  } else if (typeof shape.kids !== "string") {
    for (const kid of shape.kids) gather(kid, layer, measure, wanted, bars);
  }
}

/** @param {Shape} shape @param {Map<string, Place>} found @param {Map<string, number[]>} ascents @returns {Shape} */
function written(shape, found, ascents) {
  if (typeof shape.kids === "string") return shape;
  return {
    ...shape,
    kids: shape.kids.flatMap((/** @type {Marked} */ kid) => {
      if (!kid.asked) return [written(kid, found, ascents)];
      const { wanted, said, draw } = kid.asked;
      const place = found.get(wanted.name);
      if (!place) return [];
      if (draw) return draw(place);
      const ascent = /** @type {number[]} */ (ascents.get(wanted.name))[place.said];
      const at = { ...hung(place), y: px(place.box.y + ascent) };
      return [h("text", { ...kid.attrs, ...at }, kid.kids.length ? kid.kids : said[place.said])];
    }),
  };
}

/** Where a text's line begins, ends or has its middle. @param {Place} place */
function hung({ box, side }) {
  if (side.endsWith("right")) return { x: px(box.x) };
  if (side.endsWith("left")) return { x: px(box.x + box.width), "text-anchor": "end" };
  return { x: px(box.x + box.width / 2), "text-anchor": "middle" };
}
