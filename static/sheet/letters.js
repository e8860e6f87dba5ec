/**
 * How large the letters of the sheet are.
 * @module sheet/letters
 */

/** @typedef {{width: number, ascent: number, descent: number}} Extent pixels */

/** Widths of letters, of their height: the widest that usual typefaces have, so that a text is never wider. */
const NARROW = 0.36;
const USUAL = 0.64;
const WIDE = 0.9;
const ASCENT = 0.95;
const DESCENT = 0.26;

/** More texts than any sheet shows: what is kept beyond is of sheets long gone. */
const MOST = 4000;

/** How large a text is where nothing can be measured. @param {string} words @param {number} height @returns {Extent} */
export function estimated(words, height) {
  let width = 0;
  for (const letter of words)
    width += (/[ .,:;'|il()/]/.test(letter) ? NARROW : /[mwMW%@]/.test(letter) ? WIDE : USUAL) * height;
  return { width, ascent: ASCENT * height, descent: DESCENT * height };
}

/** Measures texts as the style sheet writes them in one drawing, each once. */
export class Letters {
  /** @param {SVGSVGElement} svg */
  constructor(svg) {
    this.svg = svg;
    this.pen = document.createElement("canvas").getContext("2d");
    /** The typeface of each kind of text. @type {Map<string, string>} */
    this.faces = new Map();
    /** @type {Map<string, Extent>} */
    this.known = new Map();
  }

  /** @param {string} words @param {string} layer @param {string} marks @returns {Extent} */
  measure(words, layer, marks) {
    const kind = `${layer}/${marks}`;
    // Every digit is as wide as the others, so a number that runs is measured once.
    const alike = words.replace(/\d/g, "0");
    const name = `${kind}/${alike}`;
    const known = this.known.get(name);
    if (known) return known;
    if (this.known.size > MOST) this.known.clear();
    const found = this.pen ? this.measured(this.pen, alike, this.face(kind, layer, marks)) : estimated(words, 16);
    this.known.set(name, found);
    return found;
  }

  /** @param {CanvasRenderingContext2D} pen @param {string} words @param {string} face @returns {Extent} */
  measured(pen, words, face) {
    pen.font = face;
    const { width, fontBoundingBoxAscent: ascent, fontBoundingBoxDescent: descent } = pen.measureText(words);
    return { width, ascent, descent };
  }

  /** @param {string} kind @param {string} layer @param {string} marks */
  face(kind, layer, marks) {
    const known = this.faces.get(kind);
    if (known) return known;
    const space = "http://www.w3.org/2000/svg";
    const room = document.createElementNS(space, "g");
    const probe = document.createElementNS(space, "text");
    room.setAttribute("class", layer);
    probe.setAttribute("class", marks);
    room.append(probe);
    this.svg.append(room);
    const { fontStyle, fontWeight, fontSize, fontFamily } = getComputedStyle(probe);
    room.remove();
    const face = `${fontStyle} ${fontWeight} ${fontSize} ${fontFamily}`;
    this.faces.set(kind, face);
    return face;
  }
}
