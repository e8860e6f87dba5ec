/**
 * The live line to the server: one question at a time, the newest next, those overtaken dropped. It comes back by
 * itself when the server does, and asks the newest question again.
 * @module core/live
 */

import { SLOWEST_ANSWER_MS } from "./server.js";

/** @typedef {import("../document/link.js").Heights} Heights */
/** @typedef {{seq: number, mount: Mount, command: Record<string, number>, ends?: Heights}} Question */

export class Live {
  /**
   * @param {string} address of the socket
   * @param {(answer: LiveAnswer|LiveRefusal, question: Question, newest: boolean) => void} onAnswer an answer that a
   *   newer question has overtaken comes too, so that numbers keep up with the hand: `newest` tells
   * @param {(state: "live"|"waiting"|"offline") => void} onState
   */
  constructor(address, onAnswer, onState) {
    this.address = address;
    this.onAnswer = onAnswer;
    this.onState = onState;
    this.seq = 0;
    /** @type {Question|null} */
    this.newest = null;
    /** The question that is out. @type {Question|null} */
    this.out = null;
    this.pause = 200;
    /** @type {WebSocket|null} */
    this.socket = null;
    this.timer = 0;
    this.connect();
    addEventListener("online", () => this.hurry());
    document.addEventListener("visibilitychange", () => document.hidden || this.hurry());
  }

  /**
   * Ask about a mount.
   * @param {Mount} mount
   * @param {Record<string, number>} command
   * @param {Heights} [ends] where the ends are to be brought, mm above where they were drawn
   * @returns {number} its number
   */
  ask(mount, command, ends) {
    this.seq += 1;
    this.newest = { seq: this.seq, mount, command, ends };
    this.send();
    return this.seq;
  }

  connect() {
    clearTimeout(this.timer);
    const socket = new WebSocket(this.address);
    this.socket = socket;
    socket.addEventListener("open", () => {
      this.pause = 200;
      this.out = null;
      this.onState("live");
      this.send();
    });
    socket.addEventListener("message", (event) => this.received(JSON.parse(event.data)));
    socket.addEventListener("close", () => {
      if (this.socket === socket) this.lost();
    });
  }

  send() {
    const question = this.newest;
    if (!question || this.out !== null || this.socket?.readyState !== WebSocket.OPEN) return;
    this.out = question;
    this.onState("waiting");
    this.socket.send(JSON.stringify(question));
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.socket?.close(), SLOWEST_ANSWER_MS);
  }

  /** @param {LiveAnswer|LiveRefusal} answer */
  received(answer) {
    clearTimeout(this.timer);
    const question = this.out;
    this.out = null;
    if (!question) return;
    const newest = question === this.newest;
    if (newest) {
      this.newest = null;
      this.onState("live");
    }
    this.onAnswer(answer, question, newest);
    this.send();
  }

  lost() {
    clearTimeout(this.timer);
    this.out = null;
    this.onState("offline");
    this.timer = window.setTimeout(() => this.connect(), this.pause);
    this.pause = Math.min(this.pause * 1.6, 2000);
  }

  hurry() {
    if (this.socket && this.socket.readyState > WebSocket.OPEN) {
      this.pause = 200;
      this.connect();
    }
  }
}
