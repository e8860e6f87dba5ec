/**
 * What the page's buttons do.
 * @module core/actions
 */

import { addBody, bareBlade, duplicated, mirrored, withoutBody, withoutMembers } from "../document/draw.js";
import { withEdit } from "../document/edits.js";
import { copyLink, saveDocument, saveFrom } from "../document/files.js";
import { said } from "./server.js";
import { savePng, saveSvg } from "../sheet/picture.js";
import { offerGrids } from "./forms.js";
import { address } from "../document/link.js";
import { pairWith } from "./pairing.js";
import { amount, preferUnits, unit } from "../values/units.js";
import { handle } from "../document/mount.js";

/**
 * @param {Object} desk
 * @param {import("./store.js").Store} desk.store
 * @param {import("./editor.js").Editor} desk.editor
 * @param {import("../sheet/drafter.js").Drafter} desk.drafter
 * @param {import("./autosave.js").Autosave} desk.autosave
 * @param {import("../panels/library.js").LibraryDialog} desk.library
 * @param {import("../sheet/sheet.js").Sheet} desk.sheet
 * @param {import("./demonstration.js").Demonstration} desk.demonstration
 * @param {import("./firstlook.js").FirstLook} desk.firstLook
 * @param {(name: string) => void} desk.openShipped
 * @param {(mount: any, command?: any) => Promise<void>} desk.openDocument
 * @param {(selector: string) => any} desk.find
 * @returns {(action: string) => void}
 */
export function actions({
  store,
  editor,
  drafter,
  autosave,
  library,
  sheet,
  demonstration,
  firstLook,
  openShipped,
  openDocument,
  find,
}) {
  /** Members of what is picked. @returns {Set<string>} */
  const chosen = () => {
    const { mount, picked, selected } = store.state;
    const names = selected.length ? selected : picked ? [picked] : [];
    return new Set(names.map((name) => handle(mount, name)?.member?.id).filter((id) => id !== undefined));
  };
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  let swinging = 0;

  function swing() {
    cancelAnimationFrame(swinging);
    if (store.state.wiggle !== null) {
      store.set({ wiggle: null });
      return;
    }
    if (still.matches) {
      store.set({ wiggle: Math.PI / 2 });
      return;
    }
    const begin = performance.now();
    const step = (/** @type {number} */ now) => {
      if (store.state.answered?.mobility.state !== "loose" || (now > begin && store.state.wiggle === null)) {
        store.set({ wiggle: null });
        return;
      }
      store.set({ wiggle: (now - begin) / 500 });
      swinging = requestAnimationFrame(step);
    };
    store.set({ wiggle: 0 });
    swinging = requestAnimationFrame(step);
  }

  /** @param {() => Promise<any>} doing @param {string} [done] */
  async function trying(doing, done) {
    try {
      await doing();
      if (done) find("#file-said").textContent = done;
    } catch (error) {
      find("#file-said").textContent = said(error, store.state.system);
    }
  }

  async function linkOut() {
    const { mount, command } = store.state;
    const link = await copyLink(mount, command);
    const byHand = find("#link-by-hand");
    byHand.hidden = link === null;
    byHand.value = link ?? "";
    find("#file-said").textContent =
      link === null
        ? "Copied: the link carries the whole mount."
        : "This browser gives no clipboard here: copy the link above by hand.";
    if (link !== null) byHand.select();
  }

  /** What stands at the head of a picture: the mount, its tolerance, units and date. */
  const heading = () => {
    const { mount, system } = store.state;
    const tolerance = mount.tolerance ? `, tolerance ±${amount(mount.tolerance, "error", system)}` : "";
    return `${mount.title}${tolerance}, lengths in ${unit("fine", system)}, ${new Date().toLocaleDateString("sv")}`;
  };

  const question = () => ({ mount: store.state.mount, command: store.state.command });
  const edited = (/** @type {(mount: any, ids: Set<string>) => any} */ change) => {
    const ids = chosen();
    if (!ids.size) return;
    editor.change(change(store.state.mount, ids));
  };

  /** @type {Record<string, () => void>} */
  const all = {
    undo: () => editor.step(-1),
    redo: () => editor.step(1),
    fit: () => store.set({ view: sheet.fitted(store.state.mount) }),
    unpick: () => store.set({ picked: null, selected: [], several: false, placing: false }),
    place: () => store.set({ placing: !store.state.placing }),
    "swap-end": () => store.set({ end: store.state.end === "left" ? "right" : "left" }),
    level: () => editor.work({}),
    "play-all": () => store.set({ heldOut: false }),
    "play-turned": () => store.set({ heldOut: true }),
    reactions: () => store.set({ reactions: !store.state.reactions }),
    table: () => store.set({ table: !store.state.table }),
    slopes: () => store.set({ slopes: !store.state.slopes }),
    several: () => store.set({ several: !store.state.several }),
    alike: () => store.set({ alike: !store.state.alike }),
    "add-body": () => {
      const { mount, name } = addBody(store.state.mount);
      editor.change(mount);
      if (store.state.tool) store.set({ onto: name });
    },
    delete: () => {
      edited(withoutMembers);
      store.set({ picked: null, selected: [] });
      sheet.svg.focus({ preventScroll: true });
    },
    duplicate: () => edited((mount, ids) => duplicated(mount, ids, 4 * store.state.grid)),
    mirror: () => edited(mirrored),
    wiggle: swing,
    stay: () => store.set({ leaving: null }),
    leave: () => {
      const { leaving } = store.state;
      store.set({ leaving: null });
      leaving?.();
    },
    hush: () => store.set({ message: null }),
    theirs: () => autosave.theirs(),
    mine: () => autosave.mine(),
    library: () => library.open(),
    keys: () => find("#keys").showModal(),
    files: () => {
      find("#file-said").textContent = "";
      find("#link-by-hand").hidden = true;
      find("#files").showModal();
    },
    bare: () => {
      const { mount } = store.state;
      library.dialog.close();
      openDocument(bareBlade(mount)).catch((error) => store.set({ message: said(error, store.state.system) }));
    },
    "open-file": () => {
      find("#files").close();
      find("#open-file").click();
    },
    "save-document": () => saveDocument(store.state.mount),
    "copy-link": () => trying(linkOut),
    "save-svg": () => saveSvg(sheet.svg, store.state.mount, heading()),
    "save-png": () => trying(() => savePng(sheet.svg, store.state.mount, heading())),
    "save-dxf": () => trying(() => saveFrom("/export/dxf", { ...question(), pose: "drawn" }, store.state.mount, "dxf")),
    "save-dxf-worked": () =>
      trying(() => saveFrom("/export/dxf", { ...question(), pose: "worked" }, store.state.mount, "dxf")),
    "save-csv": () => trying(() => saveFrom("/export/csv", question(), store.state.mount, "csv")),
    handout: () =>
      trying(async () => location.assign(await address("/handout", { m: question() }, store.state.system))),
    compare: () =>
      trying(async () => location.assign(await address("/compare", pairWith(question()), store.state.system))),
  };

  /** @type {Record<string, () => void>} */
  const demos = {
    play: () => demonstration.play(),
    step: () => demonstration.step(),
    stop: () => demonstration.stop(true),
    swing: () => demonstration.swing(),
    turns: () => demonstration.correct("turns"),
    together: () => demonstration.correct("together"),
    quiz: () => demonstration.set({ quiz: !store.state.demo.quiz }),
    projector: () => demonstration.set({ projector: !store.state.demo.projector }),
  };

  document.addEventListener("click", (event) => {
    const target = event.target instanceof Element ? event.target.closest("button") : null;
    if (!target) return;
    const { demo, guide: look } = target.dataset;
    if (demo) demos[demo]?.();
    if (look) look === "next" ? firstLook.next() : firstLook.end();
    const { seek, of, action, mount, system, choose, tab, edit, tool, onto, pick, remove, removeBody, close } =
      target.dataset;
    if (action) all[action]?.();
    if (tab) store.set({ tab });
    if (seek) {
      const end = of === "left" || of === "right" ? of : store.state.end;
      store.set({ tab: "working", seek, end });
      if (of && of !== end) editor.choose(of);
    }
    if (edit) editor.change(withEdit(store.state.mount, edit));
    if (mount) openShipped(mount);
    if (choose) editor.choose(choose);
    if (tool !== undefined) {
      drafter.take(tool || null);
      if (tool) sheet.svg.focus({ preventScroll: true });
    }
    if (onto !== undefined) store.set({ onto: onto || null });
    if (pick) find(`[data-handle="${CSS.escape(pick)}"]`)?.focus();
    if (remove) {
      editor.change(withoutMembers(store.state.mount, new Set([remove])));
      find("#panel").focus({ preventScroll: true });
    }
    if (removeBody) editor.change(withoutBody(store.state.mount, removeBody));
    if (close !== undefined) target.closest("dialog")?.close();
    if (system) preferUnits(/** @type {any} */ (system));
    if (system)
      store.set({ system: /** @type {any} */ (system), grid: offerGrids(find("#grid"), /** @type {any} */ (system)) });
  });

  return (action) => all[action]?.();
}
