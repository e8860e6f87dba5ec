/**
 * The shipped mounts, each as a small picture of itself.
 * @module panels/picker
 */

import { hullOf, outline } from "../sheet/marks/bodies.js";
import { hues } from "../document/mount.js";
import { h, through } from "../values/shapes.js";
import { fit } from "../values/view.js";

const SIZE = { width: 64, height: 44 };

/** @param {{name: string, mount: Mount}[]} shipped @param {string|null} current */
export function picker(shipped, current) {
  return shipped.map(({ name, mount }, index) =>
    h(
      "button",
      {
        key: name,
        type: "button",
        class: "tile",
        "data-mount": name,
        "aria-pressed": current === name ? "true" : "false",
        title: mount.title,
        "aria-label": `${index + 1}, ${mount.title}`,
      },
      [
        {
          tag: "svg",
          attrs: {
            key: "svg",
            viewBox: `0 0 ${SIZE.width} ${SIZE.height}`,
            width: SIZE.width,
            height: SIZE.height,
            "aria-hidden": "true",
          },
          kids: thumbnail(mount),
        },
        h("span", { key: "number", class: "tile-number" }, String(index + 1)),
      ],
    ),
  );
}

/** A small picture: bodies first, so that what holds them lies over them. @param {Pictured} mount */
export function thumbnail(mount) {
  const { blade, members, outlines = [] } = mount;
  const corners = outlines.flatMap(({ points }) => points);
  const points = [...outline(blade), ...corners];
  for (const member of members) points.push(...(member.ends ? member.ends.map((end) => end.at) : [member.at]));
  const view = fit(points, SIZE, { left: 4, right: 4, top: 5, bottom: 5 });
  const tones = hues(mount);
  /** @param {readonly (readonly [number, number])[]} places */
  const placed = (places) => places.map((at) => view.apply(at));
  const plate = outlines.some(({ body }) => body === "blade") ? [blade.left, blade.right] : outline(blade);
  const bodies = [
    ...bodiesOf(mount).map((joints) => hullOf(placed(joints))),
    ...outlines.map((each) => placed(each.points)),
  ];
  return [
    h("path", { key: "blade", d: through(placed(plate), true), class: "thumb-blade" }),
    ...bodies.map((body, index) => h("path", { key: `body ${index}`, d: through(body, true), class: "thumb-body" })),
    ...members.map((member) => {
      const tone = `hue-${tones.get(member.id)}`;
      if (member.ends) {
        const ends = placed(member.ends.map((end) => end.at));
        return h("path", { key: member.id, d: through(ends), class: `thumb-${member.kind} ${tone}` });
      }
      const [cx, cy] = view.apply(member.at);
      return h("circle", { key: member.id, cx, cy, r: 2.5, class: "thumb-pin" });
    }),
  ];
}

/** The joints of each body but the blade that has no outline. @param {Pictured} mount */
function bodiesOf({ joined, members, outlines = [] }) {
  if (joined) return joined;
  const drawn = new Set(["frame", "blade", ...outlines.map(({ body }) => body)]);
  /** @type {Map<string, (readonly [number, number])[]>} */
  const bodies = new Map();
  /** @param {string|undefined} body @param {readonly [number, number]} at */
  const join = (body, at) => {
    if (body && !drawn.has(body)) bodies.set(body, [...(bodies.get(body) ?? []), at]);
  };
  for (const member of members) {
    for (const end of member.ends ?? []) join(end.on, end.at);
    if (!member.ends) for (const body of member.joins ?? []) join(body, member.at);
  }
  return [...bodies.values()];
}
