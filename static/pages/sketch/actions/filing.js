/**
 * What goes out and comes in: documents, links, pictures, drawings, and the pages for two mounts and for print.
 * @module pages/sketch/actions/filing
 */

import { pairWith } from "../../../core/pairing.js";
import { bareBlade } from "../../../document/draw.js";
import { saveFrom } from "../../../core/exports.js";
import { copyLink, saveDocument } from "../../../document/files.js";
import { said } from "../../../core/server.js";
import { address } from "../../../document/link.js";
import { savePng, saveSvg } from "../../../sheet/picture.js";
import { amount, unit } from "../../../values/units.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function filing({ store, library, sheet, openDocument, find }) {
  /** @param {() => void|Promise<void>} doing */
  const trying = async (doing) => {
    try {
      await doing();
    } catch (error) {
      find("#file-said").textContent = said(error, store.state.system);
    }
  };

  const linkOut = async () => {
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
  };

  /** What stands at the head of a picture: the mount, its tolerance, units and date. */
  const heading = () => {
    const { mount, system } = store.state;
    const tolerance = mount.tolerance ? `, tolerance ±${amount(mount.tolerance, "error", system)}` : "";
    return `${mount.title}${tolerance}, lengths in ${unit("fine", system)}, ${new Date().toLocaleDateString("sv")}`;
  };

  const question = () => ({ mount: store.state.mount, command: store.state.command });
  /** @param {string} ending @param {{pose?: "drawn"|"worked"}} [more] */
  const download = (ending, more = {}) =>
    trying(() => saveFrom(`/export/${ending}`, { ...question(), ...more }, store.state.mount, ending));
  /** @param {string} page @param {() => Record<string, Worked>} aboard */
  const go = (page, aboard) => trying(async () => location.assign(await address(page, aboard(), store.state.system)));

  return {
    files: () => {
      find("#file-said").textContent = "";
      find("#link-by-hand").hidden = true;
      find("#files").showModal();
    },
    bare: () => {
      library.dialog.close();
      openDocument(bareBlade(store.state.mount)).catch((error) =>
        store.set({ message: said(error, store.state.system) }),
      );
    },
    "open-file": () => {
      find("#files").close();
      find("#open-file").click();
    },
    "save-document": () => saveDocument(store.state.mount),
    "copy-link": () => trying(linkOut),
    "save-svg": () => saveSvg(sheet.svg, store.state.mount, heading()),
    "save-png": () => trying(() => savePng(sheet.svg, store.state.mount, heading())),
    "save-dxf": () => download("dxf", { pose: "drawn" }),
    "save-dxf-worked": () => download("dxf", { pose: "worked" }),
    "save-csv": () => download("csv"),
    handout: () => go("/handout", () => ({ m: question() })),
    compare: () => go("/compare", () => pairWith(question())),
  };
}
