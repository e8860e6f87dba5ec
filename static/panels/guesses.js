/**
 * A question on the wall, and its answer among what the class guessed: a strip of dots.
 * @module panels/guesses
 */

import { guessesOf, laid, middleOf, ticks } from "../core/guesses.js";
import { questionOf } from "../core/questions.js";
import { h, line, px, text } from "../values/shapes.js";
import { amount, inward, outward, unit } from "../values/units.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../core/questions.js").Question} Question */
/** @typedef {import("../values/shapes.js").Shape} Shape */

/** The strip in its own units: its letters are 30 high, so that they are a thirtieth of any wall. */
const [WIDTH, MARGIN, TOP, AXIS, FOOT] = [600, 26, 50, 176, 222];
const RADIUS = 9;
const MOST_TICKS = 4;

/** The question alone, while the class guesses. @param {State} state @returns {Shape[]} */
export function asked(state) {
  const question = questionOf(state);
  const count = question ? guessesOf(state.demo.guesses, question.words).length : 0;
  return [
    h("p", { key: "question", class: "board-question" }, question?.words ?? "What do you expect?"),
    h(
      "p",
      { key: "count", class: "board-quiet", role: "status", "data-guesses": count },
      count ? `${count} ${count === 1 ? "guess" : "guesses"} so far.` : "The numbers are hidden until they are shown.",
    ),
  ];
}

/** The answer among the guesses. @param {State} state @returns {Shape[]} */
export function answered(state) {
  const question = questionOf(state);
  if (!question) return [];
  const guesses = guessesOf(state.demo.guesses, question.words);
  const { quantity, answer, unsure, said } = question;
  const shown = amount(answer, quantity, state.system);
  const more = unsure ? ` ± ${amount(unsure, quantity, state.system)}` : "";
  const times = unit(quantity, state.system) === "" ? " times" : "";
  return [
    h("p", { key: "asked", class: "board-quiet board-asked" }, question.words),
    h("p", { key: "answer", class: "board-answer", "data-answer": answer }, `${shown}${times}${more}`),
    ...(said ? [h("p", { key: "said", class: "board-quiet" }, said)] : []),
    ...(guesses.length ? strip(state, question, guesses) : []),
  ];
}

/** @param {State} state @param {Question} question @param {number[]} guesses @returns {Shape[]} */
function strip({ system }, { quantity, answer, unsure }, guesses) {
  const along = laid(guesses, answer, unsure);
  const x = (/** @type {number} */ share) => MARGIN + share * (WIDTH - 2 * MARGIN);
  const rise = Math.min(2 * RADIUS, (AXIS - TOP - 2 * RADIUS) / Math.max(along.levels - 1, 1));
  const shown = (/** @type {number} */ value) => Number(outward(value, quantity, system));
  const one = inward(1, quantity, system);
  const middle = amount(middleOf(guesses), quantity, system);
  const words = `${guesses.length} ${guesses.length === 1 ? "guess" : "guesses"}, the middle one ${middle}`;
  const scale = ticks(along.from / one, along.to / one, MOST_TICKS).map((each) => each * one);
  return [
    h("figure", { key: "strip", class: "guess-strip" }, [
      h(
        "svg",
        {
          key: "svg",
          viewBox: `0 0 ${WIDTH} ${FOOT}`,
          role: "img",
          "aria-label": `${words}; the answer is ${amount(answer, quantity, system)}`,
        },
        [
          line([MARGIN, AXIS], [WIDTH - MARGIN, AXIS], { key: "axis", class: "guess-axis" }),
          ...scale.map((value, index) =>
            h("g", { key: `tick ${index}`, class: "guess-tick" }, [
              line([x(along.at(value)), AXIS], [x(along.at(value)), AXIS + 10], { key: "l" }),
              text([x(along.at(value)), AXIS + 42], String(shown(value)).replace("-", "−"), {
                key: "t",
                "text-anchor": "middle",
              }),
            ]),
          ),
          ...(unsure
            ? [
                h("rect", {
                  key: "unsure",
                  class: "guess-unsure",
                  x: px(x(along.at(answer - unsure))),
                  width: px(x(along.at(answer + unsure)) - x(along.at(answer - unsure))),
                  y: 12,
                  height: AXIS - 12,
                }),
              ]
            : []),
          line([x(along.at(answer)), 12], [x(along.at(answer)), AXIS], { key: "answer", class: "guess-answer" }),
          h("path", { key: "flag", d: `M${px(x(along.at(answer)))} 22l-11 -20h22z`, class: "guess-flag" }),
          ...along.dots.map(({ share, level, beyond }, index) =>
            h("circle", {
              key: `dot ${index}`,
              class: beyond ? "guess-dot beyond" : "guess-dot",
              "data-guess": guesses[index],
              cx: px(x(share)),
              cy: px(AXIS - RADIUS - 3 - level * rise),
              r: RADIUS,
            }),
          ),
        ],
      ),
      h("figcaption", { key: "words", class: "board-quiet" }, `${words}.`),
    ]),
  ];
}

/** Where the one who teaches types what the class calls out. @param {State} state @returns {Shape[]} */
export function guessEntry(state) {
  const question = questionOf(state);
  if (!state.demo.quiz || !question) return [];
  const { typed } = state.demo.guesses.of === question.words ? state.demo.guesses : { typed: [] };
  const named = unit(question.quantity, state.system);
  return [
    h("label", { key: "guess", class: "strip-guess" }, [
      h("span", { key: "label" }, `guess${named ? `, ${named}` : ""}`),
      h("input", {
        key: "entry",
        type: "text",
        inputmode: "decimal",
        autocomplete: "off",
        "data-guess-typed": true,
        "aria-label": `a guess of the class${named ? `, ${named}` : ""}`,
      }),
    ]),
    ...(typed.length
      ? [h("button", { key: "unguess", type: "button", "data-demo": "unguess" }, "take the last back")]
      : []),
  ];
}
