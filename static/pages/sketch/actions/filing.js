/**
 * What goes out and comes in: documents, links, pictures, drawings, and the pages for two mounts and for print.
 * @module pages/sketch/actions/filing
 */

import { pairWith } from "../../../core/pairing.js";
import { bareBlade } from "../../../document/bare.js";
import { saveFrom } from "../../../core/exports.js";
import { copyLink, saveDocument } from "../../../document/files.js";
import { said } from "../../../core/server.js";
import { address } from "../../../document/link.js";
import { savePng, saveSvg } from "../../../sheet/picture.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function filing({ store, library, sheet, openDocument, find }) {
  /** @param {() => void|Promise<void>} doing */
  const trying = async (doing) => {
    find("#file-said").textContent = "";
    try {
      await doing();
    } catch (error) {
      const line = find("#file-said");
      line.textContent = said(error, store.state.system);
      line.scrollIntoView({ block: "nearest" });
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

  const question = () => ({ mount: store.state.mount, command: store.state.command });
  /** @param {string} format @param {import("../../../core/exports.js").Choices} [more] */
  const download = (format, more = {}) =>
    trying(() => {
      const { mount, system } = store.state;
      return saveFrom(format, { ...question(), system, ...more }, mount);
    });
  const paper = find("#pdf-paper");
  const onPaper = () => ({ paper: paper.value, scale: find("#pdf-scale").value });
  // The paper follows the units until the user takes another.
  paper.addEventListener("change", () => (paper.dataset.chosen = "yes"));

  /** @param {string} page @param {() => Record<string, Worked>} aboard @param {string} [kept] */
  const go = (page, aboard, kept = "") =>
    trying(async () => location.assign(await address(page, aboard(), store.state.system, { kept })));

  return {
    files: () => {
      const { system } = store.state;
      find("#files [data-shown-system]").textContent = system === "inch" ? "inches" : "millimetres";
      if (!paper.dataset.chosen) paper.value = paper.dataset[system] ?? "";
      find("#file-said").textContent = "";
      find("#link-by-hand").hidden = true;
      find("#files").showModal();
    },
    bare: () => {
      library.dialog.close();
      openDocument(bareBlade(store.state.mount, store.state.system)).catch((error) =>
        store.set({ message: said(error, store.state.system) }),
      );
    },
    "open-file": () => {
      find("#files").close();
      find("#open-file").click();
    },
    "save-document": () => saveDocument(store.state.mount),
    "copy-link": () => trying(linkOut),
    "save-svg": () => saveSvg(sheet, store.state),
    "save-png": () => trying(() => savePng(sheet, store.state)),
    "save-dxf": () => download("dxf", { pose: "drawn" }),
    "save-dxf-worked": () => download("dxf", { pose: "worked" }),
    "save-pdf": () => download("pdf", { pose: "drawn", ...onPaper() }),
    "save-pdf-worked": () => download("pdf", { pose: "worked", ...onPaper() }),
    "save-csv": () => download("csv"),
    handout: () => go("/handout", () => ({ m: question() })),
    compare: () => go("/compare", () => pairWith(question())),
    run: () => {
      const mine = question();
      const pair = pairWith(mine);
      // What it is kept as, so that the page finds its variants.
      const kept =
        pair.a === mine ? `${store.state.variants.current ?? ""},` : `,${store.state.variants.current ?? ""}`;
      return go("/run", () => pair, kept);
    },
  };
}
