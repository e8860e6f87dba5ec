/** The state and those who listen to it. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { Store, firstState } from "../../static/core/store.js";

test("a change leaves the state that was there as it was", () => {
  const store = new Store(firstState());
  const before = store.state;
  store.set({ kept: "kept" });
  assert.equal(before.kept, "");
  assert.equal(store.state.kept, "kept");
});

test("what a listener changes comes after everyone has heard of what it listens to", () => {
  const store = new Store(firstState());
  /** @type {string[]} */
  const heard = [];
  store.listen((state, before) => {
    if (state.tab !== before.tab) store.set({ kept: `opened ${state.tab}` });
  });
  store.listen((state, before) => heard.push(`${before.tab}, ${before.kept} to ${state.tab}, ${state.kept}`));
  store.set({ tab: "loads" });
  assert.deepEqual(heard, ["error,  to loads, ", "loads,  to loads, opened loads"]);
});

test("two changes of one part by two listeners both hold", () => {
  const store = new Store(firstState());
  store.listen((state, before) => {
    if (state.tab !== before.tab) store.set(({ demo }) => ({ demo: { ...demo, quiz: true } }));
  });
  store.listen((state, before) => {
    if (state.tab !== before.tab) store.set(({ demo }) => ({ demo: { ...demo, wall: true } }));
  });
  store.set({ tab: "loads" });
  assert.deepEqual([store.state.demo.quiz, store.state.demo.wall], [true, true]);
});

test("everything that follows from a change is there when the change is made", () => {
  const store = new Store(firstState());
  store.listen((state) => {
    if (state.grid < 50) store.set({ grid: state.grid + 10 });
  });
  store.set({ grid: 5 });
  assert.equal(store.state.grid, 55);
});

test("a listener that fails does not silence the store", () => {
  const store = new Store(firstState());
  const off = { failing: true };
  store.listen(() => {
    if (off.failing) throw new Error("no");
  });
  assert.throws(() => store.set({ kept: "once" }));
  off.failing = false;
  store.set({ kept: "twice" });
  assert.equal(store.state.kept, "twice");
});
