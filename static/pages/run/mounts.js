/**
 * The mounts that can be run: the shipped ones and the user's own, chosen for each side.
 * @module pages/run/mounts
 */

import { answerOf } from "../../core/server.js";
import { pack, unpack } from "../../document/link.js";
import { cylinders } from "../../document/mount.js";
import { alike } from "../../document/places.js";
import { h } from "../../values/shapes.js";
import { shippedMounts } from "../compare/opening.js";

/** @typedef {"a"|"b"} Name */
/** @typedef {Record<Name, string[]|null>} Works the two cylinders that work, of a mount with more */

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
    /** The two cylinders that work, of a mount with more. @type {Record<Name, string[]|null>} */
    this.works = { a: null, b: null };
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

  /** The same for a link, and which cylinders work. */
  async aboard() {
    const { kept, works } = this;
    const own = kept.a || kept.b ? `&k=${kept.a ?? ""},${kept.b ?? ""}` : "";
    return own + (await worksPart(works));
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
    this.works[name] = null;
    return mount;
  }
}

/** The pairs of cylinders of a mount, to choose the one that works. @param {Mount|null} mount @returns {string[][]} */
export function pairsOf(mount) {
  const ids = mount ? cylinders(mount).map(({ id }) => id) : [];
  return ids.length > 2 ? ids.flatMap((one, at) => ids.slice(at + 1).map((other) => [one, other])) : [];
}

/** @param {string[][]} pairs @returns {Shape[]} */
export function pairChoices(pairs) {
  return pairs.map((pair, at) => h("option", { key: at, value: String(at) }, pair.join(" and ")));
}

/**
 * Settings with the cylinders that work.
 * @param {RunSettings} settings @param {string[]|null} works @returns {RunSettings}
 */
export function worked(settings, works) {
  return works ? { ...settings, control: { ...settings.control, cylinders: works } } : settings;
}

/** The same as a part of a link; nothing where the first two work. @param {Works} works */
export async function worksPart(works) {
  return works.a || works.b ? `&w=${await pack(works)}` : "";
}

/**
 * Which cylinders a link has working.
 * @param {string|undefined} packed @returns {Promise<Record<Name, string[]|null>>}
 */
export async function worksAboard(packed) {
  const found = packed ? /** @type {Partial<Record<Name, string[]>>} */ (await unpack(packed)) : {};
  return { a: found.a ?? null, b: found.b ?? null };
}
