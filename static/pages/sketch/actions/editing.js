/**
 * Changes to the mount by a button: undo, take out, copy, add.
 * @module pages/sketch/actions/editing
 */

import { duplicated, mirrored } from "../../../document/copies.js";
import { addBody, withoutMembers } from "../../../document/draw.js";
import { lineOf, withoutLine } from "../../../document/construction.js";
import { withAlike } from "../../../document/mirror.js";
import { cornerAdded, cornerOf, cornerRemoved, withoutOutline } from "../../../document/outlines.js";
import { toggleSteps } from "../steplist.js";
import { handle } from "../../../document/mount.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function editing({ store, editor, drafter: { outliner }, sheet, setEnd, fillDown, clipboard }) {
  const names = () => {
    const { picked, selected } = store.state;
    return selected.length ? selected : picked ? [picked] : [];
  };
  /** Members of what is picked. @returns {Set<string>} */
  const chosen = () => {
    const members = names().map((name) => handle(store.state.mount, name)?.member?.id);
    return new Set(members.filter((id) => id !== undefined));
  };
  /** @param {(mount: Mount, picked: import("../../../document/copies.js").Picked) => Mount} change */
  const copied = (change) => {
    const lines = names()
      .map(lineOf)
      .filter((index) => index !== null);
    editor.change(change(store.state.mount, { members: chosen(), lines: new Set(lines) }));
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
      const gone = chosen();
      if (gone.size) editor.change(withoutMembers(store.state.mount, gone));
      store.set({ picked: null, selected: [] });
      sheet.svg.focus({ preventScroll: true });
    },
    copy: () => clipboard.copy(chosen()),
    paste: () => clipboard.paste(),
    duplicate: () => copied((mount, picked) => duplicated(mount, picked, 4 * store.state.grid)),
    mirror: () => copied(mirrored),
  };
}
