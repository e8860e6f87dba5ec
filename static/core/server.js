/**
 * Asking the server: JSON in, JSON out, and a refusal that keeps its facts until it is put into the reader's units.
 * @module core/server
 */

import { filled } from "../values/messages.js";

/** @typedef {import("../values/messages.js").Sentence & {place: string, code: string}} Fault */
/** @typedef {{code: string, message: string, faults: Fault[]}} Refusal */

const AWAY = "The server does not answer.";

/** A server that takes longer counts as away. */
export const SLOWEST_ANSWER_MS = 10000;

/** What the server refused, with every fault. */
export class Refused extends Error {
  /** @param {Refusal} refusal @param {number} status */
  constructor(refusal, status) {
    super(refusal.message);
    this.code = refusal.code;
    this.faults = refusal.faults;
    this.status = status;
  }

  /** The first fault with its place, and how many more there are. @param {System} system */
  words(system) {
    const [first, ...more] = this.faults;
    const place = first.place.replace(/^mount\.?/, "");
    const others = more.length ? ` (and ${more.length} more)` : "";
    return `${place ? `${place}: ` : ""}${filled(first, system)}${others}`;
  }
}

/**
 * What an address answers to a question, or without one.
 * @param {string} path
 * @param {unknown} [question] sent as JSON
 * @param {{signal?: AbortSignal, method?: string}} [how]
 * @returns {Promise<Response>}
 * @throws {Refused}
 */
export async function asked(path, question, { signal, method } = {}) {
  const sent =
    question === undefined ? {} : { headers: { "content-type": "application/json" }, body: JSON.stringify(question) };
  const answer = await fetch(path, { method: method ?? (question === undefined ? "GET" : "POST"), signal, ...sent });
  if (!answer.ok) throw new Refused((await answer.json()).error, answer.status);
  return answer;
}

/**
 * The same as a JSON value.
 * @template {string} Path
 * @param {Path} path @param {unknown} [question] @param {{signal?: AbortSignal, method?: string}} [how]
 * @returns {Promise<AnswerTo<Path>>}
 */
export async function answerOf(path, question, how) {
  return (await asked(path, question, how)).json();
}

/** What went wrong, in words. @param {unknown} error @param {System} system */
export function said(error, system) {
  if (error instanceof Refused) return error.words(system);
  if (error instanceof TypeError) return AWAY;
  return error instanceof Error ? error.message : String(error);
}

/** A name for a step, so that sending it twice keeps it once. */
export function newKey() {
  return crypto.randomUUID?.() ?? `${Date.now()}-${Math.random()}`;
}
