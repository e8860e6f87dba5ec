/**
 * Variants of the mount on the sheet: which there are, switching between them, and what is asked of those that are
 * shown as ghosts or stand in the table.
 * @module core/variants
 */

import { familyIn, titleOfCopy } from "../document/families.js";
import { cylinders } from "../document/mount.js";
import { own } from "../values/own.js";
import { vocabulary } from "../values/vocabulary.js";
import { Refused, answerOf, newKey } from "./server.js";

/** So long strokes stand still before the variants are asked at them. */
const STILL_MS = 150;
/** So many are shown at once; the library has all. */
const MOST = 24;

/** @typedef {import("../document/families.js").Variant} Variant */
/**
 * What is known of one: its document, and its numbers at the strokes of the sheet, or as drawn where it cannot be
 * worked there.
 * @typedef {Object} Found
 * @property {Mount} mount
 * @property {Readout|null} readout null where the server refuses it
 * @property {Judged|null} judged
 * @property {boolean} worked at the strokes of the sheet
 */
/**
 * @typedef {Object} VariantsState
 * @property {boolean} open whether their table stands under the sheet
 * @property {Variant[]} family in the order of the keys; the one on the sheet among them
 * @property {string|null} current the one on the sheet
 * @property {string[]} ghosts those shown as ghosts
 * @property {Record<string, Found>} found
 */

/**
 * A command for another mount: what its cylinders of the same name are told.
 * @param {Command} command @param {Mount} mount
 */
export function commandOf(command, mount) {
  const known = new Set(cylinders(mount).map((each) => each.id));
  return Object.fromEntries(Object.entries(command).filter(([id, move]) => known.has(id) && move !== 0));
}

export class Variants {
  /**
   * @param {import("./store.js").Store} store
   * @param {Object} page
   * @param {{name: string, mount: Mount}[]} page.shipped
   * @param {() => string|null} page.current id of the library or name of the shipped mount on the sheet
   * @param {() => number} page.openings counts the mounts that were opened
   * @param {(then: () => void) => void} page.leaveFor do what takes another mount on the sheet
   * @param {(id: string) => Promise<unknown>} page.open a mount of the library, seen as the one before
   * @param {(name: string) => void} page.openShipped
   * @param {(error: unknown) => void} page.failed
   */
  constructor(store, page) {
    this.store = store;
    this.page = page;
    /** Documents by id and revision. @type {Map<string, Mount>} */
    this.documents = new Map();
    this.opening = -1;
    /** @type {string|null} */
    this.id = null;
    this.timer = 0;
    /** @type {AbortController|null} */
    this.out = null;
    /** Ghosts that follow the strokes at the moment. @type {Promise<void>|null} */
    this.trailing = null;
    store.listen((state, before) => {
      if (!state.mount) return;
      if (state.command !== before.command && state.variants.ghosts.length) this.trailing ??= this.trail();
      const now = page.current();
      // A change to a shipped mount has no id until the library has made it a copy: the family is the same.
      if (now !== this.id && (now !== null || page.openings() !== this.opening)) this.follow(now);
      else if (state.variants.open && !before.variants.open) this.refresh();
      if (state.command !== before.command || wanted(state).join() !== wanted(before).join()) this.wait();
    });
  }

  /** Another mount is on the sheet. @param {string|null} id */
  follow(id) {
    this.id = id;
    this.opening = this.page.openings();
    this.set({ current: id });
    this.refresh();
  }

  /** @param {Partial<VariantsState>} change */
  set(change) {
    this.store.set(({ variants }) => ({ variants: { ...variants, ...change } }));
  }

  /** Ask the library which variants there are. */
  async refresh() {
    const { id } = this;
    const family = id === null ? [] : await this.familyOf(id).catch(() => null);
    if (family === null || id !== this.id) return;
    const here = new Set(family.map((each) => each.id));
    const { ghosts } = this.store.state.variants;
    this.set({ family, ghosts: ghosts.filter((each) => here.has(each)) });
    this.wait();
  }

  /** @param {string} id @returns {Promise<Variant[]>} */
  async familyOf(id) {
    return familyIn(await answerOf("/library"), id, this.page.shipped).slice(0, MOST);
  }

  /** The numbers are asked for once the strokes stand still. */
  wait() {
    clearTimeout(this.timer);
    this.out?.abort();
    if (wanted(this.store.state).length) this.timer = window.setTimeout(() => this.ask(), STILL_MS);
  }

  /** Ghosts follow the strokes: all are asked where they stand, and again while the strokes have moved on since. */
  async trail() {
    /** @type {Command|null} */
    let told = null;
    while (told !== this.store.state.command) {
      told = this.store.state.command;
      for (const id of this.store.state.variants.ghosts) {
        const known = own(this.store.state.variants.found, id);
        if (!known?.readout) continue;
        const question = { mount: known.mount, command: commandOf(told, known.mount) };
        const readout = await answerOf("/readout", question).catch(() => null);
        if (!readout) continue;
        const found = { ...known, readout, judged: null, worked: true };
        this.set({ found: { ...this.store.state.variants.found, [id]: found } });
      }
    }
    this.trailing = null;
  }

  async ask() {
    const out = new AbortController();
    this.out = out;
    await this.trailing;
    if (out.signal.aborted) return;
    const { command, variants } = this.store.state;
    for (const id of wanted(this.store.state)) {
      const variant = variants.family.find((each) => each.id === id);
      try {
        const found = variant && (await this.find(variant, command, out.signal));
        if (out.signal.aborted) return;
        if (found) this.set({ found: { ...this.store.state.variants.found, [id]: found } });
      } catch {
        // Given up, gone from the library, or the server is away: what is known of it stays.
        if (out.signal.aborted) return;
      }
    }
  }

  /**
   * @param {Variant} variant @param {Command} command of the sheet @param {AbortSignal} signal
   * @returns {Promise<Found>}
   */
  async find(variant, command, signal) {
    const mount = await this.documentOf(variant);
    const told = commandOf(command, mount);
    for (const moves of [told, {}]) {
      try {
        const readout = await answerOf("/readout", { mount, command: moves }, { signal });
        const judged = readout.budget ? await answerOf("/worst", { mount, command: moves }, { signal }) : null;
        return { mount, readout, judged, worked: moves === told };
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
      }
    }
    return { mount, readout: null, judged: null, worked: false };
  }

  /** @param {Variant} variant */
  async documentOf({ id, revision }) {
    const key = `${id} ${revision}`;
    const known = this.documents.get(key) ?? this.page.shipped.find(({ name }) => name === id)?.mount;
    const mount = known ?? (await answerOf(`/library/${id}`)).mount;
    this.documents.set(key, mount);
    return mount;
  }

  /** Another of the family on the sheet, seen from where this one is. @param {string} id */
  take(id) {
    if (id === this.id) return;
    if (this.page.shipped.some(({ name }) => name === id)) this.page.openShipped(id);
    else this.page.leaveFor(() => this.page.open(id).catch(this.page.failed));
  }

  /** The next of the family, or the one before. @param {-1|1} by */
  beside(by) {
    const { family } = this.store.state.variants;
    const at = family.findIndex((each) => each.id === this.id);
    if (at >= 0 && family.length > 1) this.take(family[(at + by + family.length) % family.length].id);
  }

  /** Show one as a ghost, or no more. @param {string} id */
  ghost(id) {
    const { ghosts } = this.store.state.variants;
    this.set({ ghosts: ghosts.includes(id) ? ghosts.filter((each) => each !== id) : [...ghosts, id] });
  }

  /** All others as ghosts, or none. */
  ghostAll() {
    const { family, ghosts } = this.store.state.variants;
    this.set({ ghosts: ghosts.length ? [] : family.map((each) => each.id) });
  }

  /**
   * Another mount, worked out from the one on the sheet, as a variant of that; the sheet stays.
   * @param {Mount} mount
   */
  async keep(mount) {
    const { command, variants } = this.store.state;
    const taken = [this.store.state.mount.title, ...variants.family.map((each) => each.title)];
    const title = titleOfCopy(mount.title, taken, vocabulary.limits.title);
    try {
      const origin = this.page.current();
      const told = commandOf(command, mount);
      await answerOf("/library", {
        mount: { ...mount, title },
        command: told,
        ...(origin ? { origin } : {}),
        key: newKey(),
      });
      this.store.set({ done: `Kept as a variant: ${title}` });
      await this.refresh();
    } catch (error) {
      this.page.failed(error);
    }
  }

  /** A copy of what is on the sheet as a variant of it; the copy takes the sheet, what it was copied from its ghost. */
  copy() {
    this.page.leaveFor(async () => {
      const { mount, command, variants } = this.store.state;
      const origin = this.page.current();
      try {
        const taken = [mount.title, ...variants.family.map((each) => each.title)];
        const title = titleOfCopy(mount.title, taken, vocabulary.limits.title);
        const copy = { ...mount, title };
        const from = origin === null ? {} : { origin };
        const { id } = await answerOf("/library", { mount: copy, command, ...from, key: newKey() });
        if (origin !== null) this.set({ ghosts: [...new Set([...variants.ghosts, origin])] });
        await this.page.open(id);
      } catch (error) {
        this.page.failed(error);
      }
    });
  }
}

/**
 * Those whose numbers or outlines are shown, but for the one on the sheet.
 * @param {import("./store.js").State} state @returns {string[]}
 */
function wanted({ variants: { open, family, ghosts, current } }) {
  return family.filter(({ id }) => id !== current && (open || ghosts.includes(id))).map(({ id }) => id);
}
