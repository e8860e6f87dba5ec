/**
 * The mounts that can be run: the shipped ones and the user's own, chosen for each side.
 * @module pages/run/mounts
 */

import { answerOf } from "../../core/server.js";
import { alike } from "../../document/places.js";
import { h } from "../../values/shapes.js";
import { shippedMounts } from "../compare/opening.js";

/** @typedef {"a"|"b"} Name */

/** Before the id of a mount of the library in a choice. */
const KEPT = "kept:";

export class Mounts {
  constructor() {
    /** @type {{name: string, mount: Mount}[]} */
    this.shipped = [];
    /** @type {LibraryEntry[]} */
    this.library = [];
    /** What they are kept as: an id of the library, or a shipped name. @type {Record<Name, string|null>} */
    this.kept = { a: null, b: null };
  }

  async load() {
    this.shipped = await shippedMounts();
    this.library = await answerOf("/library").catch(() => []);
  }

  /** A shipped mount. @param {string} name */
  named(name) {
    return this.shipped.find((each) => each.name === name)?.mount ?? null;
  }

  /** What a link says the mounts are kept as. @param {string|undefined} packed */
  keptAboard(packed) {
    const [a, b] = (packed ?? "").split(",");
    this.kept = { a: a || null, b: b || null };
  }

  /** The same for a link. */
  get aboard() {
    return this.kept.a || this.kept.b ? `&k=${this.kept.a ?? ""},${this.kept.b ?? ""}` : "";
  }

  /** What is chosen on a side. @param {Name} name @param {Mount|null} mount */
  choice(name, mount) {
    if (!mount) return "";
    const kept = this.kept[name];
    if (this.library.some(({ id }) => id === kept)) return KEPT + kept;
    return this.shipped.find((each) => alike(each.mount, mount))?.name ?? "own";
  }

  /** What can be chosen on a side. @param {Name} name @param {Mount|null} mount @returns {Shape[]} */
  choices(name, mount) {
    const option = (/** @type {string} */ value, /** @type {string} */ words) =>
      h("option", { key: value, value }, words);
    return [
      ...(name === "b" ? [option("", "nothing")] : []),
      ...(this.choice(name, mount) === "own" ? [option("own", String(mount?.title))] : []),
      ...this.shipped.map((each) => option(each.name, each.mount.title)),
      ...(this.library.length
        ? [
            h(
              "optgroup",
              { key: "library", label: "from the library" },
              this.library.map(({ id, title }) => option(KEPT + id, title)),
            ),
          ]
        : []),
    ];
  }

  /** The mount of a choice, which the side then has. @param {Name} name @param {string} choice */
  async open(name, choice) {
    const id = choice.startsWith(KEPT) ? choice.slice(KEPT.length) : null;
    const mount = id ? (await answerOf(`/library/${id}`)).mount : this.named(choice);
    this.kept[name] = id ?? (mount ? choice : null);
    return mount;
  }
}
