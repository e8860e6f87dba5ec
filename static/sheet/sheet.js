/**
 * The sheet: lays the renderers over one another, in order.
 * @module sheet/sheet
 */

import { offsets, reactions, slopes } from "./marks/arrows.js";
import { blade, ghostWords, ghosts, others } from "./marks/bodies.js";
import { centre, centreMark } from "./marks/centre.js";
import { construction } from "./marks/construction.js";
import { freeBoxes, locks } from "./marks/free.js";
import { ghost } from "./marks/ghost.js";
import { datum, frame, grid } from "./marks/ground.js";
import { drafting, measures } from "./marks/drafting.js";
import { jointFacts } from "./marks/facts.js";
import { coordinates, handleTargets } from "./marks/handles.js";
import { held } from "./marks/held.js";
import { endArrows, loads } from "./marks/loads.js";
import { highlighted } from "./marks/highlighted.js";
import { members } from "./marks/members.js";
import { frameOutlines } from "./marks/outlines.js";
import { springs } from "./marks/springs.js";
import { staffs } from "./marks/staff.js";
import { variantGhosts } from "./marks/variants.js";
import { traces } from "./marks/trace.js";
import { lettered } from "./lettering.js";
import { Letters } from "./letters.js";
import { sceneOf } from "./scene.js";
import { paint } from "../core/paint.js";
import { h } from "../values/shapes.js";
import { fit } from "../values/view.js";

/** @type {[string, (scene: import("./scene.js").Scene) => import("../values/shapes.js").Shape[]][]} */
const LAYERS = [
  ["grid", grid],
  ["datum", datum],
  ["variants", variantGhosts],
  ["construction", construction],
  ["frame-outlines", frameOutlines],
  ["ghosts", ghosts],
  ["bodies", others],
  ["blade", blade],
  ["frame", frame],
  ["springs", springs],
  ["centre", centre],
  ["members", members],
  ["staffs", staffs],
  ["traces", traces],
  ["centre-mark", centreMark],
  ["loads", loads],
  ["arrows", endArrows],
  ["reactions", reactions],
  ["slopes", slopes],
  ["offsets", offsets],
  ["measures", measures],
  ["held", held],
  ["free", freeBoxes],
  ["tried", ghost],
  ["locks", locks],
  ["ghost-words", ghostWords],
  ["highlighted", highlighted],
  ["handles", handleTargets],
  ["drafting", drafting],
  ["facts", jointFacts],
  ["coordinates", coordinates],
];

/** What a drawing shows while a class guesses: the mount itself, and nothing that follows from it. */
const OPEN_WHILE_GUESSING = new Set([
  "grid",
  "datum",
  "construction",
  "frame-outlines",
  "bodies",
  "blade",
  "frame",
  "springs",
  "members",
  "loads",
  "measures",
  "held",
  "handles",
  "drafting",
  "coordinates",
]);

/**
 * The layers of a scene that are drawn, by name.
 * @param {import("./scene.js").Scene} scene @returns {[string, import("../values/shapes.js").Shape[]][]}
 */
export function layersOf(scene) {
  return LAYERS.filter(([name]) => !scene.quiz || OPEN_WHILE_GUESSING.has(name)).map(([name, render]) => [
    name,
    render(scene),
  ]);
}

/** How high the drawing is on the wall, in its own units: so its letters grow with it. */
const WALL_ROWS = 380;

export class Sheet {
  /** @param {SVGSVGElement} svg */
  constructor(svg) {
    this.svg = svg;
    /** Room of the drawing in its own units: pixels, larger ones on the wall. */
    this.size = { width: 100, height: 100 };
    /** Where its corner is on the page, pixels. */
    this.corner = { left: 0, top: 0 };
    this.zoom = 1;
    /** Whether a pointer is down on it. */
    this.held = false;
    this.letters = new Letters(svg);
    /** Where the words stand; they stay while they can. @type {Map<string, import("./labels.js").Place>} */
    this.places = new Map();
    /** What the words were placed for: of anything else they are placed afresh. */
    this.placedFor = "";
  }

  measure() {
    const box = this.svg.getBoundingClientRect();
    const onWall = document.body.classList.contains("wall");
    this.zoom = onWall ? Math.min(Math.max(box.height / WALL_ROWS, 1), 1.8) : 1;
    this.size = { width: Math.max(box.width / this.zoom, 50), height: Math.max(box.height / this.zoom, 50) };
    this.corner = { left: box.left, top: box.top };
    this.svg.setAttribute("viewBox", `0 0 ${this.size.width} ${this.size.height}`);
  }

  /** The view that shows a whole mount with room for staffs and dimensions. @param {Mount} mount */
  fitted(mount) {
    const points = [mount.blade.left, mount.blade.right];
    for (const member of mount.members) points.push(...(member.ends ? member.ends.map((end) => end.at) : [member.at]));
    if (mount.sensors) points.push(mount.sensors.left, mount.sensors.right);
    return fit(points, this.size, {
      left: 148,
      right: 148,
      top: 34,
      bottom: Math.max(124, 0.2 * this.size.height + 46),
    });
  }

  /**
   * A view after the sheet became larger or smaller, as large as it was: what was in the middle stays there. Under a
   * hand the drawing stays where it is on the page.
   * @param {import("../values/view.js").View} view
   * @param {Sheet["size"] & Sheet["corner"]} before the sheet as it was
   */
  kept(view, before) {
    return this.held
      ? view.shifted((before.left - this.corner.left) / this.zoom, (before.top - this.corner.top) / this.zoom)
      : view.shifted((this.size.width - before.width) / 2, (this.size.height - before.height) / 2);
  }

  /** @param {import("../core/store.js").State} state */
  draw(state) {
    if (!state.mount || !state.view) return;
    const scene = sceneOf(state, this.size);
    const shapes = layersOf(scene).map(([name, drawn]) => h("g", { key: name, class: `layer-${name}` }, drawn));
    const { width, height } = this.size;
    const placedFor = [state.mount.title, state.chosen, state.system, width, height].join("/");
    const { layers, places } = lettered(
      shapes,
      this.size,
      (words, layer, marks) => this.letters.measure(words, layer, marks),
      placedFor === this.placedFor ? this.places : undefined,
    );
    Object.assign(this, { places, placedFor });
    paint(this.svg, layers);
    this.svg.classList.toggle("placing", state.placing || state.boxing || state.tool !== null);
  }

  /**
   * Where a pointer is, in the drawing's own units.
   * @param {{clientX: number, clientY: number}} event
   * @returns {[number, number]}
   */
  at(event) {
    const box = this.svg.getBoundingClientRect();
    return [(event.clientX - box.left) / this.zoom, (event.clientY - box.top) / this.zoom];
  }
}
