/**
 * The sheet as a picture: a file that needs no style sheet, or pixels.
 * @module sheet/picture
 */

import { download, named } from "../document/files.js";
import { marked } from "../values/marked.js";

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

/**
 * The sheet as a picture that needs no style sheet.
 * @param {SVGSVGElement} sheet @param {string} [words] what stands at its head @returns {string}
 */
function asSvg(sheet, words = "") {
  const copy = /** @type {SVGSVGElement} */ (sheet.cloneNode(true));
  dressed(sheet, copy);
  for (const layer of copy.querySelectorAll(".layer-handles, .layer-drafting, .layer-coordinates, .layer-facts"))
    layer.remove();
  const { width, height } = sheet.getBoundingClientRect();
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("width", String(width));
  copy.setAttribute("height", String(height));
  for (const name of ["id", "role", "tabindex", "class"]) copy.removeAttribute(name);
  const patterns = document.querySelector("defs");
  if (patterns) {
    const defs = /** @type {Element} */ (patterns.cloneNode(true));
    dressed(patterns, defs);
    copy.prepend(defs);
  }
  const head = document.createElementNS("http://www.w3.org/2000/svg", "text");
  for (const [name, value] of Object.entries({
    x: "16",
    y: "24",
    "font-family": "sans-serif",
    "font-size": "15",
    "font-weight": "600",
    fill: getComputedStyle(document.body).color,
  }))
    head.setAttribute(name, value);
  head.textContent = words;
  if (words) copy.append(head);
  const paper = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  paper.setAttribute("width", "100%");
  paper.setAttribute("height", "100%");
  paper.setAttribute("fill", getComputedStyle(document.body).backgroundColor);
  copy.prepend(paper);
  return `<?xml version="1.0" encoding="UTF-8"?>\n${marked(new XMLSerializer().serializeToString(copy))}\n`;
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

/** @param {SVGSVGElement} sheet @param {Mount} mount @param {string} words */
export function saveSvg(sheet, mount, words) {
  download(new Blob([asSvg(sheet, words)], { type: "image/svg+xml" }), named(mount, "svg"));
}

/** @param {SVGSVGElement} sheet @param {Mount} mount @param {string} words */
export async function savePng(sheet, mount, words) {
  const { width, height } = sheet.getBoundingClientRect();
  const source = URL.createObjectURL(new Blob([asSvg(sheet, words)], { type: "image/svg+xml" }));
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
  if (blob) download(/** @type {Blob} */ (blob), named(mount, "png"));
}
