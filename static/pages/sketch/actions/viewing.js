/**
 * What is shown, and how: nothing here changes the mount.
 * @module pages/sketch/actions/viewing
 */

import { wiggler } from "./wiggle.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function viewing({ store, sheet, find }) {
  return {
    fit: () => store.set({ view: sheet.fitted(store.state.mount), ownView: false }),
    "all-notices": () => store.set(({ allNotices }) => ({ allNotices: !allNotices })),
    unpick: () => store.set({ picked: null, dimension: null, selected: [], several: false, placing: false }),
    place: () => store.set(({ placing }) => ({ placing: !placing })),
    "swap-end": () => store.set(({ end }) => ({ end: end === "left" ? "right" : "left" })),
    "count-worst": () => store.set({ underLoad: false }),
    "count-load": () => store.set({ underLoad: true }),
    reactions: () => store.set(({ reactions }) => ({ reactions: !reactions })),
    table: () => store.set(({ table }) => ({ table: !table })),
    "spread-any": () => store.set({ pressed: false }),
    "spread-pressed": () => store.set({ pressed: true }),
    offsets: () => store.set(({ offsets }) => ({ offsets: !offsets })),
    boxing: () => store.set(({ boxing }) => ({ boxing: !boxing, tool: null, placing: false })),
    slopes: () => store.set(({ slopes }) => ({ slopes: !slopes })),
    several: () => store.set(({ several }) => ({ several: !several })),
    wiggle: wiggler(store),
    wall: () => store.set(({ demo }) => ({ demo: { ...demo, wall: !demo.wall } })),
    keys: () => find("#keys").showModal(),
  };
}
