/**
 * What to change first, how far play may grow, and whether the linear sums hold.
 * @module panels/change
 */

import { h } from "../values/shapes.js";
import { amount, decimals, decimalsFor } from "../values/units.js";
import { asSentence } from "../values/messages.js";
import { jointName, messageWords, reasonFor } from "../values/words.js";

const MOST = 8;
const WORTH_MM = 0.005;

/** @param {import("../core/store.js").State} state */
export function change(state) {
  const found = state.detail?.answer;
  if (found?.absent.improve) {
    const why = asSentence(messageWords(found.absent.improve, state.mount, state.system));
    return [h("p", { key: "why", class: "said" }, why)];
  }
  if (!found?.improve || !found.worst)
    return [
      h(
        "p",
        { key: "why", class: "said quiet" },
        state.answered?.budget ? "working it out…" : `– ${reasonFor(state, "budget")}`,
      ),
    ];
  const { end, tried } = found.improve;
  const other = end === "left" ? "right" : "left";
  const worthwhile = tried.filter((each) => each.fall[end] > WORTH_MM).slice(0, MOST);
  const shown = (/** @type {number} */ fall) =>
    amount(-fall, "error", state.system, { sign: true, digits: decimalsFor(0.01, state.system) });
  return [
    h(
      "p",
      { key: "head", class: "said quiet" },
      `A small change, and what the worst error at the ${end} end then is more or less by the linear sums; each ` +
        `made and worked out again:`,
    ),
    h(
      "ol",
      { key: "list", class: "changes" },
      worthwhile.map((each) =>
        h(
          "li",
          {
            key: `${each.what} ${each.id}`,
            "data-change": each.what,
            "data-id": each.id,
            "data-value": each.fall[end],
          },
          [
            h("div", { key: "row", class: "row" }, [
              h(
                "span",
                { key: "words" },
                changeWords(each, state.system, state.mount) +
                  (each.fall[other] < -WORTH_MM ? ` (${other} end ${shown(each.fall[other])})` : ""),
              ),
              h("span", { key: "fall", class: "fall" }, shown(each.fall[end])),
            ]),
          ],
        ),
      ),
    ),
    ...(worthwhile.length
      ? []
      : [
          h(
            "p",
            { key: "none", class: "said" },
            `No single small change helps by as much as ${amount(WORTH_MM, "error", state.system)}, by the linear ` +
              `sums.`,
          ),
        ]),
    h(
      "button",
      { key: "slopes", type: "button", "data-action": "slopes", "aria-pressed": state.slopes ? "true" : "false" },
      "show on the sheet which way to move each pivot",
    ),
    h("h3", { key: "wear" }, "Wear"),
    h("p", { key: "growth", class: "said" }, wearWords(found)),
    ...tightest(state, found.inside === false ? null : found.wear).map((words, index) =>
      h("p", { key: `joint ${index}`, class: "said quiet" }, words),
    ),
    h("h3", { key: "linear" }, "Are the sums good enough?"),
    h("p", { key: "check", class: "said" }, linearWords(found.worst, state.system)),
  ];
}

/** @param {Verified} entry @param {System} system @param {Mount} mount */
function changeWords({ what, id, change: by }, system, mount) {
  const of = jointName(mount, id);
  const size = (/** @type {import("../values/units.js").Quantity} */ quantity) =>
    amount(Math.abs(by), quantity, system);
  switch (what) {
    case "clearance":
      return `${size("error")} less clearance in ${of}`;
    case "pivot x":
      return `${of} ${size("fine")} to the ${by > 0 ? "right" : "left"}`;
    case "pivot y":
      return `${of} ${size("fine")} ${by > 0 ? "up" : "down"}`;
    case "spacing":
      return `${of}: each ${size("fine")} further ${by > 0 ? "out" : "in"}`;
    case "bore":
      return `${size("fine")} ${by > 0 ? "more" : "less"} bore in ${of}`;
    case "bulk modulus":
      return `${size("modulus")} ${by > 0 ? "more" : "less"} bulk modulus: stiffer oil and hoses`;
    case "hose volume":
      return `${size("volume")} ${by > 0 ? "more" : "less"} hose volume at ${of}`;
    case "lug stiffness":
      return `${size("stiffness")} ${by > 0 ? "stiffer" : "softer"} lug at ${of}`;
    case "tyre stiffness":
      return `${size("stiffness")} ${by > 0 ? "stiffer" : "softer"} tyres`;
    default:
      return `${size("area")} ${by > 0 ? "more" : "less"} section in ${of}`;
  }
}

/** @param {{wear: Wear|null, inside: boolean|null, absent: Record<string, {text: string}>}} found */
function wearWords({ wear, inside, absent }) {
  if (!wear) return `– ${absent.wear.text}`;
  if (inside === false && !(wear.factor !== null && wear.factor < 1))
    return "By the true worst the tolerance is lost as it is.";
  if (wear.factor === null)
    return "No play that moves an end by the linear sums, or the tolerance is lost without any.";
  if (wear.factor < 1)
    return `The tolerance is lost: all play would have to shrink to ${wear.factor.toFixed(2)} of what it is.`;
  const times = wear.factor.toFixed(2);
  return `By the linear sums all play may grow to ${times} times what it is before the tolerance is lost.`;
}

/**
 * The joints that use the tolerance up soonest.
 * @param {import("../core/store.js").State} state @param {Wear|null} wear
 */
function tightest(state, wear) {
  if (!wear) return [];
  return Object.entries(wear.joints)
    .filter(([, limit]) => limit !== null)
    .sort((a, b) => (a[1] ?? 0) - (b[1] ?? 0))
    .slice(0, 3)
    .map(
      ([joint, limit]) =>
        `${jointName(state.mount, joint)} alone: up to ${amount(limit, "error", state.system)} clearance`,
    );
}

/** @param {NonNullable<Detailed["worst"]>} worst true worst of both ends @param {System} system */
function linearWords(worst, system) {
  let most = { share: -1, linear: 0, value: 0 };
  for (const end of /** @type {const} */ (["left", "right"])) {
    for (const way of /** @type {const} */ (["low", "high"])) {
      const each = worst[end][way];
      if (!each) return "No: with some of its play and give the mount comes apart or snaps through.";
      const size = Math.max(Math.abs(each.linear), Math.abs(each.value));
      const share = size > 1e-3 ? Math.abs(each.value - each.linear) / size : 0;
      if (share > most.share) most = { ...each, share };
    }
  }
  const fine = { sign: true, digits: decimals("error", system) + 1 };
  return (
    `${most.share > 0.02 ? "No" : "Yes"}: farthest apart, the true worst is ` +
    `${amount(most.value, "error", system, fine)} where the sum says ${amount(most.linear, "error", system, fine)}.`
  );
}
