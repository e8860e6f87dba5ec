/**
 * The curves over a stroke as files: every number as a table, what is drawn as a picture.
 * @module pages/sketch/actions/travelling
 */

import { answerOf, asked, said } from "../../../core/server.js";
import { CURVE_STEPS, curveOver } from "../../../core/travel.js";
import { download, named } from "../../../document/files.js";
import { chartPicture } from "../../../sheet/picture.js";

/** @param {import("../actions.js").Desk} desk @returns {import("../actions.js").Actions} */
export function travelling({ store }) {
  /** @param {string} ending */
  const fileName = (ending) =>
    named(store.state.mount, ending).replace(/\.[^.]*$/, (last) => `-over-${curveOver(store.state)}${last}`);
  return {
    assemblies: async () => {
      const { mount, command, assemblies, system } = store.state;
      if (assemblies?.mount === mount && assemblies.command === command) {
        store.set({ assemblies: null });
        return;
      }
      store.set({ assemblies: { mount, command, answer: null } });
      try {
        const answer = await answerOf("/assemblies", { mount, command });
        if (store.state.assemblies?.mount === mount) store.set({ assemblies: { mount, command, answer } });
      } catch (error) {
        store.set({ assemblies: null, message: said(error, system) });
      }
    },
    "travel-csv": async () => {
      const { mount, command, system } = store.state;
      const question = { mount: { ...mount, display: system }, command, steps: CURVE_STEPS };
      try {
        const answer = await asked("/travel/table", { ...question, cylinders: [curveOver(store.state)] });
        download(await answer.blob(), fileName("csv"));
      } catch (error) {
        store.set({ message: said(error, system) });
      }
    },
    "travel-svg": () => {
      const chart = /** @type {SVGSVGElement|null} */ (document.querySelector("#panel svg.curves"));
      if (chart) download(new Blob([chartPicture(chart)], { type: "image/svg+xml" }), fileName("svg"));
    },
  };
}
