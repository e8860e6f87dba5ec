/**
 * How the kinds of source are told apart without their hues: each has its own hatch, which lies over its bars and in
 * the square beside its name. The hatches are patterns of every page (`templates/_patterns.html`), by the kind's name.
 * @module values/cues
 */

import { h } from "./shapes.js";
import { vocabulary } from "./vocabulary.js";

/** @typedef {import("./shapes.js").Shape} Shape */
/** @typedef {import("./shapes.js").Attributes} Attributes */

const HUES = 8;

/**
 * The hatch of a kind of source over a part of its bar; a kind without one shows its plain hue.
 * @param {string} kind @param {Attributes} place @returns {Shape}
 */
export function cue(kind, place) {
  return h("rect", { ...place, class: `cue cue-${kind}`, fill: `url(#hatch-${kind}) none` });
}

/** What a kind of source looks like, beside its name. @param {string} kind @param {string} [key] @returns {Shape} */
export function swatch(kind, key = "swatch") {
  const whole = { width: 10, height: 10 };
  return h("svg", { key, class: `swatch swatch-${kind}`, viewBox: "0 0 10 10", "aria-hidden": "true" }, [
    h("rect", { key: "hue", ...whole, class: "source" }),
    cue(kind, { key: "cue", ...whole }),
  ]);
}

/** The hue of a kind of source where no member gives it one. @param {string} kind */
export function hueOfKind(kind) {
  return vocabulary.sources.findIndex((each) => each.kind === kind) % HUES;
}
