/**
 * The drawing tools beside the sheet, and what the next end will be joined to.
 * @module panels/tools
 */

import { bodyNames } from "../document/bodies.js";
import { SETS } from "../document/construction.js";
import { TOOLS, isPointed } from "../document/draw.js";
import { h } from "../values/shapes.js";
import { wayRow } from "./held.js";
import { draftSpan } from "./span.js";

/** The row of tools above the sheet. @param {import("../core/store.js").State} state */
export function toolRow(state) {
  return [
    h(
      "button",
      {
        key: "pick",
        type: "button",
        "data-tool": "",
        "aria-pressed": state.tool ? "false" : "true",
        title: "Pick and move (Escape)",
      },
      "pick",
    ),
    ...Object.entries(TOOLS).map(([name, { label, hint }]) =>
      h(
        "button",
        {
          key: name,
          type: "button",
          "data-tool": name,
          "aria-pressed": state.tool === name ? "true" : "false",
          title: hint,
        },
        label,
      ),
    ),
    h(
      "button",
      {
        key: "alike",
        type: "button",
        "data-action": "alike",
        "aria-pressed": state.mount.alike ? "true" : "false",
        "aria-label": "both sides alike",
        title: "Both sides alike: a move on one side moves its partner on the other",
      },
      "alike",
    ),
    ...(state.copied
      ? [
          h(
            "button",
            {
              key: "paste",
              type: "button",
              "data-action": "paste",
              title: "Put in what was copied, here or in another mount (Ctrl+V)",
            },
            "paste",
          ),
        ]
      : []),
  ];
}

/** What the tool in hand and a selection ask for. @param {import("../core/store.js").State} state */
export function tools(state) {
  const bodies = ["frame", "blade", ...bodyNames(state.mount)];
  const drawing = state.tool !== null && state.tool !== "line" && !isPointed(state.tool);
  return [
    ...(drawing
      ? [
          h("div", { key: "onto", class: "tool-row", role: "group", "aria-label": "join to" }, [
            h("span", { key: "label", class: "quiet" }, "join to"),
            h(
              "button",
              { key: "auto", type: "button", "data-onto": "", "aria-pressed": state.onto ? "false" : "true" },
              "what is under it",
            ),
            ...bodies.map((body) =>
              h(
                "button",
                {
                  key: body,
                  type: "button",
                  "data-onto": body,
                  "aria-pressed": state.onto === body ? "true" : "false",
                },
                body,
              ),
            ),
            h(
              "button",
              {
                key: "new",
                type: "button",
                "data-action": "add-body",
                title: "A new moving body, such as a carriage or a crank",
              },
              "+ body",
            ),
          ]),
        ]
      : []),
    ...(state.tool
      ? [
          h(
            "p",
            { key: "hint", class: "tool-hint" },
            `${TOOLS[state.tool].hint} Arrow keys move the cross, Enter sets it; Escape ends.`,
          ),
        ]
      : []),
    ...draftSpan(state),
    ...wayRow(state),
    ...setRow(state),
    ...(state.draft?.corners?.length
      ? [
          h("div", { key: "corners", class: "tool-row" }, [
            h("button", { key: "close", type: "button", "data-action": "close-outline" }, "close the outline"),
          ]),
        ]
      : []),
    ...(state.selected.length > 1
      ? [
          h("div", { key: "selection", class: "tool-row", role: "group", "aria-label": "picked together" }, [
            h("span", { key: "label", class: "quiet" }, `${state.selected.length} joints picked`),
            ...SELECTION.map(([action, words]) =>
              h("button", { key: action, type: "button", "data-action": action }, words),
            ),
          ]),
        ]
      : []),
  ];
}

/** How the next construction line is set. @param {import("../core/store.js").State} state */
function setRow(state) {
  if (state.tool !== "line") return [];
  return [
    h("div", { key: "sets", class: "tool-row", role: "group", "aria-label": "construction line" }, [
      ...SETS.map(({ set, words }) =>
        h(
          "button",
          { key: set, type: "button", "data-lineset": set, "aria-pressed": state.lineSet === set ? "true" : "false" },
          words,
        ),
      ),
    ]),
  ];
}

/** What can be done with the picked members. @type {[string, string][]} */
export const SELECTION = [
  ["copy", "copy"],
  ["duplicate", "duplicate"],
  ["mirror", "mirror"],
  ["delete", "delete"],
];
