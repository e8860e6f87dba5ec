/**
 * The sheet as a picture: a file that needs no style sheet, or pixels.
 * @module sheet/picture
 */

import { paint } from "../core/paint.js";
import { download, named } from "../document/files.js";
import { h, px } from "../values/shapes.js";
import { marked } from "../values/marked.js";
import { amount, customs, inward, number, unit } from "../values/units.js";
import { FOOTER_HEIGHT, footer, roundBelow } from "./footer.js";

const PAINT = [
  "fill",
  "fill-opacity",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linecap",
  "stroke-linejoin",
  "opacity",
  "paint-order",
];
const LETTERS = ["font-family", "font-size", "font-weight", "text-anchor", "font-variant-numeric"];

/** Layers that are there for the hand only. */
const AIDS = ["grid", "handles", "drafting", "coordinates", "facts", "highlighted"];
/** How a thing is marked while it is worked on; a picture shows it plain. */
const MARKS = ["chosen", "marked"];

/**
 * The state without what the hand has picked, holds or is shown.
 * @param {import("../core/store.js").State} state
 * @returns {import("../core/store.js").State}
 */
function untouched(state) {
  return {
    ...state,
    picked: null,
    selected: [],
    moving: false,
    placing: false,
    tool: null,
    draft: null,
    guides: [],
    frame: null,
    highlighted: null,
  };
}

/**
 * The sheet as a picture that needs no style sheet, with its title block and scale bar below it.
 * @param {import("./sheet.js").Sheet} sheet @param {import("../core/store.js").State} state @returns {Picture}
 * @typedef {{svg: string, width: number, height: number}} Picture
 */
function pictureOf(sheet, state) {
  sheet.draw(untouched(state));
  const copy = /** @type {SVGSVGElement} */ (sheet.svg.cloneNode(true));
  const aids = AIDS.map((name) => copy.querySelector(`.layer-${name}`));
  const putBack = unmark(sheet.svg);
  dressed(sheet.svg, copy);
  putBack();
  sheet.draw(state);
  for (const layer of aids) layer?.remove();
  const { width, height } = sheet.size;
  const whole = height + FOOTER_HEIGHT;
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("viewBox", `0 0 ${width} ${whole}`);
  copy.setAttribute("width", String(width * sheet.zoom));
  copy.setAttribute("height", String(whole * sheet.zoom));
  for (const name of ["id", "role", "tabindex", "class", "aria-label"]) copy.removeAttribute(name);
  const styles = getComputedStyle(document.body);
  const { color, backgroundColor } = styles;
  const faint = styles.getPropertyValue("--ink-2");
  const below = document.createElementNS("http://www.w3.org/2000/svg", "g");
  paint(below, [
    h("rect", { key: "paper", x: 0, y: px(height), width: px(width), height: FOOTER_HEIGHT, fill: backgroundColor }),
    ...footer(fieldsOf(state), barOf(state, width), { width, top: height }, { ink: color, faint }),
  ]);
  copy.append(below);
  onPaper(copy, backgroundColor);
  return {
    svg: written(copy),
    width: width * sheet.zoom,
    height: whole * sheet.zoom,
  };
}

/** A chart of a panel as a picture that needs no style sheet. @param {SVGSVGElement} chart */
export function chartPicture(chart) {
  const copy = /** @type {SVGSVGElement} */ (chart.cloneNode(true));
  dressed(chart, copy);
  const { width, height } = chart.viewBox.baseVal;
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("width", String(2 * width));
  copy.setAttribute("height", String(2 * height));
  onPaper(copy, getComputedStyle(document.body).backgroundColor);
  return written(copy);
}

/** Put the page's patterns with a picture, and paper under it. @param {SVGSVGElement} copy @param {string} colour */
function onPaper(copy, colour) {
  const patterns = document.querySelector("defs");
  if (patterns) {
    const defs = /** @type {Element} */ (patterns.cloneNode(true));
    dressed(patterns, defs);
    copy.prepend(defs);
  }
  const paper = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  paper.setAttribute("width", "100%");
  paper.setAttribute("height", "100%");
  paper.setAttribute("fill", colour);
  copy.prepend(paper);
}

/** The text of a picture's file. @param {SVGSVGElement} copy */
function written(copy) {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${marked(new XMLSerializer().serializeToString(copy))}\n`;
}

/** Take marks off for as long as it is looked at. @param {Element} sheet @returns {() => void} put them back */
function unmark(sheet) {
  /** @type {[Element, string][]} */
  const taken = [];
  for (const mark of MARKS)
    for (const each of sheet.querySelectorAll(`.${mark}`)) {
      each.classList.remove(mark);
      taken.push([each, mark]);
    }
  return () => taken.forEach(([each, mark]) => each.classList.add(mark));
}

/**
 * What the title block says.
 * @param {import("../core/store.js").State} state @returns {import("./footer.js").Field[]}
 */
function fieldsOf({ mount, system, command, readout }) {
  const worked = Object.entries(readout?.pose?.command ?? command).filter(([, move]) => Math.abs(move) > 1e-6);
  const moves = worked.map(([name, move]) => `${name} ${number(move, "fine", system, { sign: true })}`);
  return [
    { label: "title", words: mount.title },
    { label: "pose", words: moves.length ? `worked: ${moves.join(", ")}` : "as drawn" },
    { label: "tolerance", words: mount.tolerance ? `±${amount(mount.tolerance, "error", system)}` : "none given" },
    { label: "dimensions in", words: customs(system).block },
    { label: "date", words: new Date().toLocaleDateString("sv") },
  ];
}

/** A bar of a round length. @param {import("../core/store.js").State} state @param {number} width */
function barOf({ view, system }, width) {
  const scale = view?.scale ?? 1;
  const one = inward(1, "fine", system);
  const round = roundBelow((0.16 * width) / (scale * one));
  return { length: round * one * scale, words: `0 – ${Number(round.toPrecision(3))} ${unit("fine", system)}` };
}

/** Write what the style sheet says onto the elements. @param {Element} from @param {Element} to */
function dressed(from, to) {
  const style = getComputedStyle(from);
  const names = from.tagName === "text" ? [...PAINT, ...LETTERS] : PAINT;
  if (!["g", "svg", "defs", "pattern"].includes(from.tagName)) {
    for (const name of names) {
      const value = style.getPropertyValue(name);
      if (value && value !== "normal")
        to.setAttribute(name, value.replaceAll('"', "'").replace(/url\('?[^#']*(#[^')]*)'?\)/, "url($1)"));
    }
  }
  for (const name of ["class", "tabindex", "role", "aria-label", "aria-pressed", "data-handle", "data-member"])
    to.removeAttribute(name);
  if (to.tagName === "g") to.removeAttribute("style");
  for (let index = 0; index < from.children.length; index += 1) dressed(from.children[index], to.children[index]);
}

/** @param {import("./sheet.js").Sheet} sheet @param {import("../core/store.js").State} state */
export function saveSvg(sheet, state) {
  download(new Blob([pictureOf(sheet, state).svg], { type: "image/svg+xml" }), named(state.mount, "svg"));
}

/** @param {import("./sheet.js").Sheet} sheet @param {import("../core/store.js").State} state */
export async function savePng(sheet, state) {
  const { svg, width, height } = pictureOf(sheet, state);
  const source = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
  const image = new Image();
  image.src = source;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(2 * width);
  canvas.height = Math.round(2 * height);
  const pen = canvas.getContext("2d");
  if (!pen) throw new Error("This browser gives no canvas to draw the picture on; save the SVG instead.");
  pen.drawImage(image, 0, 0, canvas.width, canvas.height);
  URL.revokeObjectURL(source);
  const blob = await new Promise((done) => {
    canvas.toBlob(done, "image/png");
  });
  if (blob) download(/** @type {Blob} */ (blob), named(state.mount, "png"));
}
