/**
 * What the page has to say just now: refused edits, a mount that hangs loose, warnings, a lost server.
 * @module panels/notices
 */

import { motionsOf } from "../sheet/scene.js";
import { asSentence } from "../values/messages.js";
import { h } from "../values/shapes.js";
import { splitJoint } from "../values/joint.js";
import { messageWords, mobilityWords } from "../values/words.js";

const GONE =
  "The file your mounts are kept in was taken away while this page was open. What you see is held by this page " +
  "alone: put the file back, or";
const ELSEWHERE = "This mount was changed in another tab while you worked on it here.";
const OLDER = "The library holds an older state of this mount than this page: a copy from before was put in its place.";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {"refused"|"warning"|"offline"|"done"} Kind how pressing a notice is */
/** @typedef {import("../values/shapes.js").Shape} Shape */

/**
 * One line over the sheet: the first notice, and the way to the rest.
 * @param {State} state
 * @returns {Shape[]}
 */
export function noticeStrip(state) {
  const [first, ...rest] = notices(state);
  if (!first) return [];
  if (!rest.length) return [first];
  return [
    first,
    h(
      "button",
      {
        key: "more",
        type: "button",
        class: "notice-more",
        "data-action": "all-notices",
        "aria-expanded": String(state.allNotices),
        "aria-controls": "more-notices",
      },
      state.allNotices ? "the first alone" : `1 of ${rest.length + 1}`,
    ),
    h(
      "div",
      { key: "rest", id: "more-notices", class: "more-notices", hidden: !state.allNotices },
      state.allNotices ? rest : [],
    ),
  ];
}

/** All of them, the most pressing first. @param {State} state */
export function notices(state) {
  /** @type {Shape[]} */
  const shapes = [];
  /** @type {[string, string][]} */
  const back = state.canUndo ? [["undo", "go back"]] : [];
  if (state.link === "offline") {
    shapes.push(
      notice("offline", "The server does not answer. Your drawing stays on this page; numbers come back when it does."),
    );
  }
  if (state.clash) {
    shapes.push(
      notice("refused", state.clash.older ? OLDER : ELSEWHERE, "clash", [
        ["theirs", "take that one (undo brings yours back)"],
        ["mine", "keep yours on top (that one stays among the versions)"],
      ]),
    );
  }
  if (state.gone) shapes.push(notice("refused", GONE, "gone", [["again", "keep it here again"]]));
  if (state.leaving) {
    shapes.push(
      notice("refused", "What you changed here is not kept yet, and opening another mount would lose it.", "leaving", [
        ["stay", "stay here"],
        ["leave", "open the other and lose it"],
      ]),
    );
  }
  if (state.message) shapes.push(notice("refused", state.message, "message", [["hush", "all right"]]));
  if (state.done) shapes.push(notice("done", state.done, "done", [["hush", "all right"]]));
  if (state.refusal) {
    const [first, ...more] = state.refusal.faults;
    const others = more.length ? ` (and ${more.length} more)` : "";
    shapes.push(notice("refused", `${faultWords(state, first)}${others}`, "refused", back, mends(state, first)));
    return shapes;
  }
  const answer = state.answered;
  if (!answer) return shapes;
  if (answer.mobility.state !== "located") shapes.push(unheld(state, answer.mobility, back));
  for (const warning of answer.warnings)
    shapes.push(
      notice("warning", messageWords(warning, state.mount, state.system), warning.code, ...wayOut(state, warning)),
    );
  return shapes;
}

/**
 * That a mount hangs loose or is bound: the member last drawn or moved is named first, if it takes part, and what
 * mends it stands beside it.
 * @param {State} state @param {Mobility} mobility @param {[string, string][]} back
 */
function unheld(state, mobility, back) {
  const culprit = state.picked === null ? null : splitJoint(state.picked)[0];
  const words = mobilityWords(mobility, culprit);
  if (mobility.state === "loose") {
    return notice("refused", words, "loose", shown(state));
  }
  const out = culprit !== null && mobility.freeing.includes(culprit) ? culprit : null;
  const takeOut =
    out === null ? [] : [h("button", { key: "out", type: "button", "data-remove": out }, `take '${out}' out`)];
  return notice("refused", words, mobility.state, back, takeOut);
}

/** Show how it can still move, where it can. @param {State} state @returns {[string, string][]} */
function shown(state) {
  return motionsOf(state).length ? [["wiggle", state.wiggle === null ? "show how it moves" : "stop"]] : [];
}

/**
 * What mends a warning: back from a dead centre, a stroke that is not used up.
 * @param {State} state @param {Readout["warnings"][number]} warning
 * @returns {[[string, string][], Shape[]]} actions and further buttons
 */
function wayOut(state, { code, members }) {
  const { canUndo, command } = state;
  const [member] = members;
  if (code === "near-dead-centre" || code === "dead-centre")
    return [[...(canUndo ? [/** @type {[string, string]} */ (["undo", "go back"])] : []), ...shown(state)], []];
  if (code !== "stroke-used-up") return [[], []];
  if (command[member]) return [[["level", "as drawn"]], []];
  return [[], [fitButton(member)]];
}

/** @param {string} id */
function fitButton(id) {
  return h("button", { key: "fit", type: "button", "data-reach": id }, `fit '${id}' to this distance`);
}

/**
 * What mends a refused mount, besides going back.
 * @param {State} state
 * @param {import("../core/server.js").Fault} fault
 */
function mends({ mount }, { code, place }) {
  const member = mount.members[Number(place.match(/members\[(\d+)\]/)?.[1])];
  if (code !== "outside-stroke" || !member) return [];
  return [fitButton(member.id)];
}

/**
 * The member's name in place of its number in the document.
 * @param {import("../core/store.js").State} state
 * @param {import("../core/server.js").Fault} fault
 */
export function faultWords(state, fault) {
  const match = fault.place.match(/members\[(\d+)\]/);
  const member = match && state.mount.members[Number(match[1])];
  const words = messageWords(fault, state.mount, state.system);
  return asSentence(`${member && !words.includes(`'${member.id}'`) ? `'${member.id}': ` : ""}${words}`);
}

/** @type {Record<Kind, string>} */
const MARKS = { refused: "✗", warning: "!", offline: "⌁", done: "✓" };

/**
 * @param {Kind} kind @param {string} words @param {string} [code]
 * @param {[string, string][]} [actions] what its buttons do and say
 * @param {Shape[]} [more] further buttons
 */
function notice(kind, words, code, actions = [], more = []) {
  return h("p", { key: `${kind} ${words}`, class: `notice ${kind}`, "data-warning": code ?? kind }, [
    h("span", { key: "mark", class: "notice-mark", "aria-hidden": "true" }, MARKS[kind]),
    h("span", { key: "words", class: "notice-words" }, words),
    ...actions.map(([action, label]) => h("button", { key: action, type: "button", "data-action": action }, label)),
    ...more,
  ]);
}
