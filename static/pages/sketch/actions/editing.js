/**
 * Changes to the mount by a button: undo, take out, copy, add.
 * @module pages/sketch/actions/editing
 */

import { addBody, duplicated, mirrored, withoutMembers } from "../../../document/draw.js";
import { lineOf, withoutLine } from "../../../document/construction.js";
import { withAlike } from "../../../document/mirror.js";
import { cornerAdded, cornerOf, cornerRemoved, withoutOutline } from "../../../document/outlines.js";
import { toggleSteps } from "../steplist.js";
import { handle } from "../../../document/mount.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function editing({ store, editor, drafter: { outliner }, sheet, setEnd, fillDown, clipboard }) {
  /** Members of what is picked. @returns {Set<string>} */
  const chosen = () => {
    const { mount, picked, selected } = store.state;
    const names = selected.length ? selected : picked ? [picked] : [];
    return new Set(names.map((name) => handle(mount, name)?.member?.id).filter((id) => id !== undefined));
  };
  /** @param {(mount: Mount, ids: Set<string>) => Mount} change */
  const edited = (change) => {
    const ids = chosen();
    if (ids.size) editor.change(change(store.state.mount, ids));
  };
  return {
    undo: () => editor.step(-1),
    steps: () => toggleSteps(store),
    redo: () => editor.step(1),
    alike: () => editor.change(withAlike(store.state.mount)),
    "set-end": setEnd,
    "fill-down": fillDown,
    level: () => editor.work({}),
    "add-body": () => {
      const { mount, name } = addBody(store.state.mount);
      editor.change(mount);
      if (store.state.tool) store.set({ onto: name });
    },
    "delete-outline": () => {
      const corner = cornerOf(store.state.picked);
      store.set({ picked: null });
      if (corner) editor.change(withoutOutline(store.state.mount, corner.index));
    },
    "add-corner": () => editor.change(cornerAdded(store.state.mount, store.state.picked ?? "")),
    "close-outline": () => outliner.close(),
    delete: () => {
      const { mount, picked } = store.state;
      const line = lineOf(picked);
      if (line !== null) editor.change(withoutLine(mount, line));
      if (cornerOf(picked)) editor.change(cornerRemoved(mount, picked ?? ""));
      edited(withoutMembers);
      store.set({ picked: null, selected: [] });
      sheet.svg.focus({ preventScroll: true });
    },
    copy: () => clipboard.copy(chosen()),
    paste: () => clipboard.paste(),
    duplicate: () => edited((mount, ids) => duplicated(mount, ids, 4 * store.state.grid)),
    mirror: () => edited(mirrored),
  };
}
