/**
 * Asking the server to compare the two, one question at a time: what changed meanwhile is asked for next.
 * @module pages/compare/asking
 */

import { answerOf } from "../../core/server.js";

/**
 * What is compared, and the correction that both are asked for.
 * @typedef {{a: Worked, b: Worked, end: EndName, rise: number}} Question
 */

export class Asking {
  /** @param {(found: Comparison|null) => void} told of every answer; null where there is none */
  constructor(told) {
    this.told = told;
    this.wanted = "";
    this.had = "";
    this.busy = false;
  }

  /** Whether the last answer is that of the last question. */
  get settled() {
    return !this.busy && this.wanted !== "" && this.wanted === this.had;
  }

  /** @param {Question|null} question null while one of the two has no numbers */
  want(question) {
    this.wanted = question ? JSON.stringify(question) : "";
    this.next();
  }

  async next() {
    if (this.busy || this.wanted === this.had) return;
    const text = this.wanted;
    this.busy = true;
    /** @type {Comparison|null} */
    let found = null;
    try {
      if (text) found = await answerOf("/compare", JSON.parse(text));
    } catch {
      // Refused, or the server is away: each side says so itself.
    }
    this.busy = false;
    this.had = text;
    this.told(found);
    this.next();
  }
}
