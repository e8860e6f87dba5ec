/**
 * Mounts of the library in order: which are variants of one another, what was copied from what, what a copy is
 * called, and how a title is cut.
 * @module document/families
 */

/** @typedef {"changed"|"title"|"family"} Order newest change first, by title, or variants together */
/** @typedef {Pick<LibraryEntry, "id"|"title"|"note"|"origin"|"family"|"changed">} Kin */

/**
 * The mounts that a search asks for, in order: all of its words are in the title or the note.
 * @template {Kin} Entry
 * @param {Entry[]} entries newest change first
 * @param {Order} order @param {string} [search]
 * @returns {{entry: Entry, depth: number}[]} depth: how far below the first of its family it stands
 */
export function arranged(entries, order, search = "") {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  const found = entries.filter(({ title, note }) => {
    const text = `${title}\n${note}`.toLowerCase();
    return words.every((word) => text.includes(word));
  });
  if (order === "title") return [...found].sort(byTitle).map((entry) => ({ entry, depth: 0 }));
  if (order === "changed") return found.map((entry) => ({ entry, depth: 0 }));
  const families = new Map(found.map(({ family }) => [family, /** @type {Entry[]} */ ([])]));
  for (const entry of found) families.get(entry.family)?.push(entry);
  return [...families.values()].flatMap(asTree);
}

/**
 * One family, each mount below the nearest that it was copied from.
 * @template {Kin} Entry
 * @param {Entry[]} family @returns {{entry: Entry, depth: number}[]}
 */
export function asTree(family) {
  const ids = new Set(family.map(({ id }) => id));
  /** @param {(entry: Entry) => boolean} here @param {number} depth @returns {{entry: Entry, depth: number}[]} */
  const below = (here, depth) =>
    family
      .filter(here)
      .sort(byTitle)
      .flatMap((entry) => [{ entry, depth }, ...below(({ origin }) => origin === entry.id, depth + 1)]);
  return below(({ origin }) => origin === null || !ids.has(origin), 0);
}

/**
 * One of a family.
 * @typedef {Object} Variant
 * @property {string} id of the library, or a shipped mount's name
 * @property {string} title
 * @property {string|null} parent title of what it was copied from
 * @property {number} revision 0 for a shipped mount, which never changes
 */

/**
 * A mount and its variants, the shipped one they come from first.
 * @param {LibraryEntry[]} entries of the library @param {string} id of the library, or a shipped mount's name
 * @param {{name: string, mount: Mount}[]} shipped @returns {Variant[]}
 */
export function familyIn(entries, id, shipped) {
  const mine = entries.find((each) => each.id === id);
  const first = shipped.find(({ name }) => name === (mine ? mine.shipped : id));
  const kept = asTree(entries.filter((each) => each.family === mine?.family)).map(({ entry }) => ({
    id: entry.id,
    title: entry.title,
    parent: entry.parent ?? (first && entry.origin === first.name ? first.mount.title : null),
    revision: entry.revision,
  }));
  return [...(first ? [{ id: first.name, title: first.mount.title, parent: null, revision: 0 }] : []), ...kept];
}

/** @param {Kin} a @param {Kin} b */
function byTitle(a, b) {
  return a.title.localeCompare(b.title, undefined, { numeric: true }) || (a.id < b.id ? -1 : 1);
}

/**
 * A title that has no room: its beginning and its end, by which variants are told apart.
 * @param {string} title @param {number} most letters
 */
export function shortened(title, most) {
  const letters = [...title];
  if (letters.length <= most) return title;
  const end = Math.floor(most / 3);
  return `${letters
    .slice(0, most - end - 1)
    .join("")
    .trimEnd()}…${letters.slice(-end).join("").trimStart()}`;
}

const LETTERS = [..."BCDEFGHIJKLMNOPQRSTUVWXYZ"];

/**
 * What a copy is called: the title with the next letter, `Low pivot, B`.
 * @param {string} title @param {string[]} taken titles of its variants @param {number} longest
 */
export function titleOfCopy(title, taken, longest) {
  const stem = title.replace(/, (?:[B-Z]|\d+)$/, "");
  const marks = [...LETTERS, ...taken.map((_, index) => String(index + 27)), String(taken.length + 27)];
  const titles = marks.map((mark) => `${[...stem].slice(0, longest - mark.length - 2).join("")}, ${mark}`);
  return titles.find((each) => !taken.includes(each)) ?? title;
}
