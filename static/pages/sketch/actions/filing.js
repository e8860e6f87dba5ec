/**
 * What goes out and comes in: documents, links, pictures, drawings, and the pages for two mounts and for print.
 * @module pages/sketch/actions/filing
 */

import { customs } from "../../../values/units.js";
import { pairWith } from "../../../core/pairing.js";
import { bareBlade } from "../../../document/bare.js";
import { saveFrom } from "../../../core/exports.js";
import { copyLink, saveDocument } from "../../../document/files.js";
import { said } from "../../../core/server.js";
import { address } from "../../../document/link.js";
import { savePng, saveSvg } from "../../../sheet/picture.js";

/** @typedef {import("../actions.js").Desk} Desk */

/**
 * Do something and say under the files what stood in its way.
 * @param {Desk} desk @returns {(doing: () => void|Promise<void>) => Promise<void>}
 */
function tryingAt({ store, find }) {
  return async (doing) => {
    find("#file-said").textContent = "";
    try {
      await doing();
    } catch (error) {
      const line = find("#file-said");
      line.textContent = said(error, store.state.system);
      line.scrollIntoView({ block: "nearest" });
    }
  };
}

/** @param {Desk} desk */
function questionOf({ store }) {
  return { mount: store.state.mount, command: store.state.command };
}

/**
 * What the server writes: a button names the format, and the pose where it knows several; what else is chosen stands
 * beside it.
 * @param {Desk} desk @returns {import("../../../core/clicks.js").Buttons}
 */
export function exporting(desk) {
  const trying = tryingAt(desk);
  for (const paper of papers()) paper.addEventListener("change", () => (paper.dataset.chosen = "yes"));
  return {
    export: (format, { dataset: { pose } }) =>
      trying(() => {
        const { mount, system } = desk.store.state;
        /** @type {NodeListOf<HTMLSelectElement>} */
        const choices = document.querySelectorAll(`[data-of="${CSS.escape(format)}"]`);
        const chosen = Object.fromEntries([...choices].map((each) => [each.dataset.option, each.value]));
        const shown = pose === "drawn" || pose === "worked" ? { pose } : {};
        return saveFrom(format, { ...questionOf(desk), system, ...shown, ...chosen }, mount);
      }),
  };
}

/** Where a paper is chosen. It follows the units until the user takes another. @returns {HTMLSelectElement[]} */
function papers() {
  return [...document.querySelectorAll("select")].filter((each) => each.dataset.option === "paper");
}

/** @param {Desk} desk @returns {import("../actions.js").Actions} */
export function filing(desk) {
  const { store, library, sheet, openDocument, find } = desk;
  const trying = tryingAt(desk);

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

  const question = () => questionOf(desk);

  /** @param {string} page @param {() => Record<string, Worked>} aboard @param {string} [kept] */
  const go = (page, aboard, kept = "") =>
    trying(async () => location.assign(await address(page, aboard(), store.state.system, { kept })));

  return {
    files: () => {
      const { system } = store.state;
      find("#files [data-shown-system]").textContent = customs(system).words;
      for (const paper of papers()) if (!paper.dataset.chosen) paper.value = paper.dataset[system] ?? "";
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
