/**
 * A search for better mounts within the boxes: started, followed while it goes, and what it found.
 * @module panels/search
 */

import { said } from "../core/server.js";
import { freeAsked, freeCount } from "../document/free.js";
import { alike } from "../document/places.js";
import { foundWords, rowWords } from "../values/front.js";
import { h } from "../values/shapes.js";
import { vocabulary } from "../values/vocabulary.js";
import { frontPlot } from "./front.js";
import { frontTable, shownCandidate } from "./fronttable.js";

/** @typedef {import("../core/store.js").State} State */

/** @param {State} state @returns {Shape[]} */
export function search(state) {
  const { search: found } = state;
  const standing = found?.standing;
  return [
    ...(standing?.state === "going" || (found && !standing && !found.error) ? going(state) : ready(state)),
    ...(found?.error ? [h("p", { key: "error", class: "said", role: "alert" }, said(found.error, state.system))] : []),
    ...(standing?.error
      ? [h("p", { key: "failed", class: "said", role: "alert" }, `It failed: ${standing.error}`)]
      : []),
    ...(found && standing?.result ? result(state, found, standing.result) : []),
  ];
}

/** What starts one. @param {State} state */
function ready(state) {
  const { goals } = state.wishes;
  const count = freeCount(freeAsked(state.mount, state.wishes));
  const lacks = [...(goals.length ? [] : ["a goal"]), ...(count ? [] : ["a free pivot, bore or clearance"])];
  return [
    h("div", { key: "start", class: "row-buttons" }, [
      h(
        "button",
        { key: "start", type: "button", "data-action": "search", disabled: lacks.length > 0 },
        state.search?.standing?.result ? "search again" : "search",
      ),
      h("span", { key: "why", class: "said quiet" }, lacks.length ? `needs ${lacks.join(" and ")}` : ""),
    ]),
    h("details", { key: "more", class: "help search-more" }, [
      h("summary", { key: "summary" }, "more"),
      h("div", { key: "fields", class: "fields" }, [
        effort(state, "budget", "mounts to try"),
        effort(state, "seed", "seed"),
      ]),
      h(
        "p",
        { key: "seed", class: "said quiet" },
        `From ${vocabulary.search.fewest} to ${vocabulary.search.most}. The same seed finds the same mounts again.`,
      ),
    ]),
  ];
}

/** @param {State} state @param {"budget"|"seed"} what @param {string} label */
function effort(state, what, label) {
  return h("label", { key: what, class: "field" }, [
    h("span", { key: "label", class: "field-label" }, label),
    h("input", {
      key: "input",
      type: "text",
      inputmode: "numeric",
      "data-effort": what,
      "data-quantity": "count",
      "aria-label": label,
      autocomplete: "off",
      value: String(state.effort[what]),
    }),
  ]);
}

/** How far it is. @param {State} state */
function going({ search: found, system }) {
  const progress = found?.standing?.progress;
  const best = progress?.best.length ? rowWords(progress.best, progress.objectives, system) : "";
  return [
    h("div", { key: "going", class: "going" }, [
      h("progress", {
        key: "bar",
        max: progress?.budget ?? 1,
        value: progress?.tried ?? 0,
        "aria-label": "mounts tried",
      }),
      h(
        "button",
        { key: "stop", type: "button", "data-action": "stop-search", disabled: !found?.id || found.asked !== null },
        "stop",
      ),
    ]),
    h(
      "p",
      { key: "words", class: "said" },
      progress
        ? `${progress.tried} of ${progress.budget} tried; of the unbeaten ${meetingWords(progress.meeting)}.`
        : "starting…",
    ),
    ...(best ? [h("p", { key: "best", class: "said quiet" }, `Least so far, each by itself: ${best}.`)] : []),
    ...(progress?.front.length && found
      ? [
          frontPlot({
            rows: progress.front,
            objectives: progress.objectives,
            before: null,
            meets: () => progress.meeting > 0,
            goals: found.goals,
            shown: null,
            system,
            pickable: false,
          }),
        ]
      : []),
  ];
}

/** @param {number} meeting how many meet every goal */
function meetingWords(meeting) {
  return `${meeting || "none"} ${meeting === 1 ? "meets" : "meet"} every goal`;
}

/** What it found. @param {State} state @param {import("../core/searcher.js").Search} found @param {Searched} answer */
function result(state, found, answer) {
  const { system } = state;
  const { front, objectives } = answer;
  const meeting = front.filter((each) => each.meets).length;
  const shown = shownCandidate(state);
  const moved = !alike(found.mount, state.mount);
  return [
    h("p", { key: "found", class: "said", role: "status" }, [
      h("b", { key: "best" }, foundWords(answer)),
      h(
        "span",
        { key: "count" },
        front.length
          ? ` ${front.length} that no other of them beats; ${meetingWords(meeting)}.`
          : " None of them may stand: widen the boxes.",
      ),
      h("span", { key: "early" }, answer.cancelled ? " It was ended early." : ""),
    ]),
    ...(moved && shown === null
      ? [
          h(
            "p",
            { key: "moved", class: "said quiet" },
            "They were found from the mount as it was when the search began.",
          ),
        ]
      : []),
    ...(front.length && objectives.length > 1
      ? [
          frontPlot({
            rows: front.map((each) => each.objectives),
            objectives,
            before: answer.before.every((each) => each !== null) ? /** @type {number[]} */ (answer.before) : null,
            meets: (index) => front[index].meets,
            goals: found.goals,
            shown,
            system,
            pickable: true,
          }),
        ]
      : []),
    ...(front.length ? frontTable(state, answer) : []),
    h("button", { key: "drop", type: "button", class: "wide-button", "data-action": "drop-search" }, "put these away"),
  ];
}
