/**
 * Asking the server about the two, one question at a time: what changed meanwhile is asked for next.
 * @module pages/compare/asking
 */

/**
 * What is compared, and the correction that both are asked for.
 * @typedef {{a: Worked, b: Worked, end: EndName, rise: number}} Question
 */

/** @template Q, F a question and what is found */
export class Asking {
  /**
   * @param {(question: Q) => Promise<F>} ask
   * @param {(found: F|null) => void} told of every answer; null where there is none
   */
  constructor(ask, told) {
    this.ask = ask;
    this.told = told;
    this.wanted = "";
    this.had = "";
    this.busy = false;
  }

  /** Whether the last answer is that of the last question. */
  get settled() {
    return !this.busy && this.wanted !== "" && this.wanted === this.had;
  }

  /** @param {Q|null} question null while one of the two has no numbers */
  want(question) {
    this.wanted = question ? JSON.stringify(question) : "";
    this.next();
  }

  async next() {
    if (this.busy || this.wanted === this.had) return;
    const text = this.wanted;
    this.busy = true;
    /** @type {F|null} */
    let found = null;
    try {
      if (text) found = await this.ask(JSON.parse(text));
    } catch {
      // Refused, or the server is away: each side says so itself.
    }
    this.busy = false;
    this.had = text;
    this.told(found);
    this.next();
  }
}
