/**
 * What a class guesses: typed by the one who teaches or sent from watching phones, for one question, and nowhere kept.
 * @module core/guesses
 */

/**
 * Guesses in document units, and the words of the question they answer.
 * @typedef {{of: string, typed: number[], sent: number[]}} Guesses
 */

/**
 * Guesses laid along a scale from 0 to 1: one over the other where they are alike.
 * @typedef {Object} Laid
 * @property {number} from the value at 0
 * @property {number} to the value at 1
 * @property {{share: number, level: number, beyond: boolean}[]} dots
 * @property {number} levels so many stand over one another at the most
 * @property {(value: number) => number} at where a value stands
 */

/** @type {Guesses} */
export const NO_GUESSES = { of: "", typed: [], sent: [] };
/** More are not typed for one question: a class has fewer heads. */
export const MOST_TYPED = 200;
/** Nothing larger is a guess, in document units; the server takes none either. */
export const MOST_GUESS = 1e6;
/** Dots this near stand over one another, share of the scale. */
const SLOT = 1 / 30;
/** A guess this many times farther off than the middle one stands at the edge of the scale. */
const WILD = 5;

/** Those of a question, smallest first. @param {Guesses} guesses @param {string} words of the question */
export function guessesOf(guesses, words) {
  return guesses.of === words ? [...guesses.typed, ...guesses.sent].sort((a, b) => a - b) : [];
}

/** With one that was typed. @param {Guesses} guesses @param {string} words @param {number} guess @returns {Guesses} */
export function withTyped(guesses, words, guess) {
  const { typed, sent } = guesses.of === words ? guesses : NO_GUESSES;
  return { of: words, typed: [...typed, guess].slice(-MOST_TYPED), sent };
}

/** Without the one typed last. @param {Guesses} guesses @returns {Guesses} */
export function withoutLast(guesses) {
  return { ...guesses, typed: guesses.typed.slice(0, -1) };
}

/** With all that the phones have sent so far. @param {Guesses} guesses @param {string} words @param {number[]} sent */
export function withSent(guesses, words, sent) {
  return { of: words, typed: guesses.of === words ? guesses.typed : [], sent };
}

/** The middle one. @param {number[]} sorted */
export function middleOf(sorted) {
  const half = sorted.length / 2;
  return sorted.length % 2 ? sorted[Math.floor(half)] : (sorted[half - 1] + sorted[half]) / 2;
}

/**
 * Lay guesses along a scale that shows the answer and all but the wild ones.
 * @param {number[]} sorted smallest first @param {number} answer @param {number} unsure more or less of the answer
 * @returns {Laid}
 */
export function laid(sorted, answer, unsure) {
  const off = sorted.map((each) => Math.abs(each - answer)).sort((a, b) => a - b);
  const far = Math.max(off.length ? WILD * middleOf(off) : 0, unsure, 0.2 * Math.abs(answer));
  const tame = sorted.filter((each) => Math.abs(each - answer) <= far);
  const low = Math.min(answer - unsure, 0, ...tame);
  const high = Math.max(answer + unsure, 0, ...tame);
  const room = 0.08 * (high - low) || 1;
  const [from, to] = [low - room, high + room];
  const at = (/** @type {number} */ value) => Math.min(Math.max((value - from) / (to - from), 0), 1);
  /** @type {Map<number, number>} */
  const filled = new Map();
  const dots = sorted.map((each) => {
    const slot = Math.round(at(each) / SLOT);
    const level = filled.get(slot) ?? 0;
    filled.set(slot, level + 1);
    return { share: slot * SLOT, level, beyond: each < from || each > to };
  });
  return { from, to, dots, levels: Math.max(0, ...filled.values()), at };
}

/** Round numbers along a scale, at the most so many. @param {number} from @param {number} to @param {number} most */
export function ticks(from, to, most) {
  const rough = (to - from) / most;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = decade * ([1, 2, 5, 10].find((each) => each * decade >= rough) ?? 10);
  const first = Math.ceil(from / step - 1e-9);
  return Array.from({ length: Math.floor(to / step + 1e-9) - first + 1 }, (_, index) => (first + index) * step);
}
