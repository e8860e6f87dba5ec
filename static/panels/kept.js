/**
 * One mount of the library in its list: small picture, title and note, what it was copied from, what can be done.
 * @module panels/kept
 */

import { thumbnail } from "./picker.js";
import { h } from "../values/shapes.js";
import { vocabulary } from "../values/vocabulary.js";

/** @typedef {import("../values/shapes.js").Shape} Shape */

const { limits } = vocabulary;

/**
 * How a mount of the library is shown.
 * @typedef {Object} Shown
 * @property {boolean} now it is on the sheet
 * @property {boolean} deleted the list is that of the deleted ones
 * @property {boolean} renaming its title and note are being entered
 * @property {boolean} versions its earlier versions are shown
 * @property {number} depth how far below the first of its family it stands
 * @property {string|null} parent title of what it was copied from
 */

/** @param {LibraryEntry} each @param {Shown} shown @returns {Shape} */
export function keptMount(each, shown) {
  const { now, depth } = shown;
  const below = depth ? ` below-${Math.min(depth, 3)}` : "";
  return h("div", { key: each.id, class: `kept-mount${now ? " now" : ""}${below}`, "data-kept": each.id }, [
    {
      tag: "svg",
      attrs: { key: "svg", viewBox: "0 0 64 44", width: 96, height: 66, "aria-hidden": "true" },
      kids: small(each.picture),
    },
    shown.renaming ? entryForm(each) : h("div", { key: "words" }, words(each, shown)),
  ]);
}

/** @param {LibraryEntry} each @param {Shown} shown @returns {Shape[]} */
function words(each, { now, deleted, versions, parent }) {
  /** @type {[string, string][]} */
  const buttons = deleted
    ? [["restore", "bring back"]]
    : [
        ["open", "open"],
        ["rename", "rename"],
        ["copy", "copy as variant"],
        ["versions", versions ? "hide versions" : "earlier versions"],
        ["delete", "delete"],
      ];
  const from = parent === null ? "" : `, from ${parent}`;
  const when = `${now ? "on the sheet, " : ""}changed ${new Date(each.changed).toLocaleString()}${from}`;
  return [
    h("strong", { key: "title" }, each.title),
    ...(each.note ? [h("p", { key: "note", class: "kept-note" }, each.note)] : []),
    ...unreadable(each),
    h("p", { key: "when", class: "quiet" }, when),
    h(
      "div",
      { key: "do", class: "tool-row" },
      buttons.map(([what, label]) =>
        h(
          "button",
          {
            key: what,
            type: "button",
            "data-library": what,
            "data-id": each.id,
            "aria-label": `${label}: ${each.title}`,
          },
          label,
        ),
      ),
    ),
  ];
}

/** Where title and note are entered. @param {LibraryEntry} each @returns {Shape} */
function entryForm(each) {
  return h("form", { key: "form", class: "rename", "data-rename": each.id }, [
    h("label", { key: "title" }, [
      h("span", { key: "label" }, "title"),
      h("input", { key: "field", type: "text", name: "title", value: each.title, maxlength: limits.title }),
    ]),
    h("label", { key: "note" }, [
      h("span", { key: "label" }, "note"),
      h("textarea", { key: "field", name: "note", rows: 2, value: each.note, maxlength: limits.note }),
    ]),
    h("div", { key: "do", class: "tool-row" }, [
      h("button", { key: "keep", type: "submit" }, "keep"),
      h("button", { key: "back", type: "button", "data-library": "unrename", "data-id": each.id }, "leave as it was"),
    ]),
  ]);
}

/** The shapes of a small picture; none where it cannot be read. @param {Picture|null} picture */
function small(picture) {
  if (!picture || picture.edge[0] === picture.edge[2]) return [];
  const [x1, y1, x2, y2] = picture.edge;
  return thumbnail({
    blade: { left: [x1, y1], right: [x2, y2] },
    members: picture.members.map((each, index) => {
      const [kind, x, y] = each;
      const id = String(index);
      if (each.length === 3) return { kind, id, at: [x, y] };
      return { kind, id, ends: [{ at: [x, y] }, { at: [each[3], each[4]] }] };
    }),
    joined: picture.bodies.map(pairs),
    outlines: picture.outlines.map(({ body, points }) => ({ body, points: pairs(points) })),
  });
}

/** @param {number[]} values @returns {[number, number][]} */
function pairs(values) {
  return Array.from({ length: values.length >> 1 }, (_, index) => [values[2 * index], values[2 * index + 1]]);
}

/** What cannot be read of a mount, said beside it. @param {LibraryEntry} each */
function unreadable({ unreadable: [newest, ...more], picture }) {
  if (!newest) return [];
  const steps = more.length ? `Steps ${[newest, ...more].reverse().join(", ")}` : `Step ${newest}`;
  const rest = picture ? "the one before is shown." : "no version of it can be: look into the backups.";
  return [h("p", { key: "unreadable", class: "said" }, `${steps} cannot be read any more; ${rest}`)];
}
