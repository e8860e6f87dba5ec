/**
 * The steps of a mount kept in the browser, a record each, so that undo survives a reload.
 * @module core/steps
 */

/** @typedef {import("./history.js").Snapshot} Snapshot */

/** So long the page waits for the store; a write that takes longer goes on by itself, and is there when it is done. */
const PATIENCE_MS = 4000;
/** Whether the page has waited in vain: until the store answers again it is not waited for a second time. */
let silent = false;

/** @template T @param {Promise<T>} answer @returns {Promise<T>} */
function within(answer) {
  return new Promise((done, failed) => {
    const waited = () => {
      silent = true;
      failed(new Error("the browser's store does not answer"));
    };
    const timer = setTimeout(waited, silent ? 0 : PATIENCE_MS);
    answer.then(done, failed).finally(() => {
      silent = false;
      clearTimeout(timer);
    });
  });
}

/** @returns {Promise<IDBDatabase>} */
function opened() {
  return new Promise((done, failed) => {
    const request = indexedDB.open("blade-mount-sketcher", 1);
    request.addEventListener("upgradeneeded", () => {
      request.result.createObjectStore("steps", { keyPath: ["id", "n"] });
      request.result.createObjectStore("rows", { keyPath: "id" });
    });
    request.addEventListener("success", () => {
      const made = request.result;
      made.addEventListener("close", () => (database = null));
      // Whoever empties the store waits until nobody has it open.
      made.addEventListener("versionchange", () => {
        made.close();
        database = null;
      });
      done(made);
    });
    request.addEventListener("error", () => failed(request.error));
  });
}

/** @type {Promise<IDBDatabase>|null} */
let database = null;
/** One write after another. */
let writing = Promise.resolve();

/**
 * Keep what changed.
 * @param {string} id @param {Snapshot[]} steps @param {number} at @param {number} from the first step that changed
 * @param {boolean} unsent whether the newest is not in the library yet
 */
export function saveSteps(id, steps, at, from, unsent) {
  const records = steps.map((step, n) => ({ id, n, step }));
  const row = { id, at, count: steps.length, unsent };
  writing = writing
    // A store that was closed under the page may have been emptied: it is opened anew and given all of them.
    .then(() => written(database ? records.slice(from) : records, row))
    .catch(() => {
      database = null;
      return written(records, row);
    })
    .catch(() => {
      // Without a store undo lasts as long as the page.
    });
  // Whoever asks waits for this write no longer than for one, however many are stuck before it.
  return within(writing).catch(() => {});
}

/**
 * @param {{id: string, n: number, step: Snapshot}[]} records @param {{id: string, count: number}} row
 * @returns {Promise<void>}
 */
async function written(records, row) {
  database ??= opened();
  const writes = (await database).transaction(["steps", "rows"], "readwrite");
  for (const record of records) writes.objectStore("steps").put(record);
  writes.objectStore("rows").put(row);
  return new Promise((done, failed) => {
    writes.addEventListener("complete", () => done());
    writes.addEventListener("abort", () => failed(writes.error ?? new Error("the browser's store was closed")));
  });
}

/** @param {string} id @returns {Promise<{steps: Snapshot[], at: number, unsent: boolean}|null>} */
export async function loadSteps(id) {
  try {
    database ??= opened();
    const reads = (await within(database)).transaction(["steps", "rows"]);
    const row = await result(reads.objectStore("rows").get(id));
    if (!row) return null;
    const records = await result(reads.objectStore("steps").getAll(IDBKeyRange.bound([id, 0], [id, row.count - 1])));
    if (records.length !== row.count) return null;
    return { steps: records.map((each) => each.step), at: row.at, unsent: row.unsent };
  } catch {
    return null;
  }
}

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
function result(request) {
  return within(
    new Promise((done, failed) => {
      request.addEventListener("success", () => done(request.result));
      request.addEventListener("error", () => failed(request.error));
    }),
  );
}
