/**
 * Two numbers compared in words: how many times the one is of the other, and which is the better, if they carry it.
 * @module pages/compare/ratio
 */

const NONE = 1e-9;
const ALIKE = 1.005;
/** So many inputs that differ are named in a row; more are counted, and stand in the list of differences. */
const NAMED = 2;

/** @typedef {"a"|"b"} SideName */
/** @typedef {{value: number|null, why: string}} Side why: the reason where there is no number */
/** @typedef {{words: string, better: SideName|"same"|null}} Compared better: null where the numbers do not carry it */

/**
 * @param {import("./numbers.js").Row} row @param {Side} a @param {Side} b
 * @param {string[]} unlike the inputs the number hangs on in which the two differ
 * @returns {Compared}
 */
export function compared(row, a, b, unlike) {
  if (a.value === null || b.value === null) return missing(row, a, b);
  const found =
    row.better === "one"
      ? nearerToOne(a.value, b.value)
      : row.quantity === "count"
        ? counted(a.value, b.value)
        : timesOf(row, a.value, b.value);
  if (!unlike.length || found.better === "same") return found;
  const plural = unlike.length > 1 || unlike[0].endsWith("s");
  const what = unlike.length > NAMED ? `${unlike.length} inputs` : listed(unlike);
  return { words: `${found.words}; ${what} ${plural ? "differ" : "differs"}`, better: null };
}

/** @param {import("./numbers.js").Row} row @param {Side} a @param {Side} b @returns {Compared} */
function missing(row, a, b) {
  if (a.value === null && b.value === null)
    return { words: a.why === b.why ? `neither: ${a.why}` : `A: ${a.why}; B: ${b.why}`, better: null };
  const [name, lacking] = a.value === null ? ["A", a] : ["B", b];
  const unable = row.name === "moves" && /no move corrects/.test(lacking.why);
  const better = unable ? (name === "A" ? "b" : "a") : null;
  return { words: `${name}: ${lacking.why}`, better };
}

/** @param {import("./numbers.js").Row} row @param {number} a @param {number} b @returns {Compared} */
function timesOf(row, a, b) {
  const [more, less] = Math.abs(a) >= Math.abs(b) ? [a, b] : [b, a];
  const [name, better] = more === a ? /** @type {const} */ (["A", "b"]) : /** @type {const} */ (["B", "a"]);
  if (Math.abs(more) < NONE) return { words: "none in either", better: "same" };
  const opposite = row.shown === "signed" && Math.abs(less) > NONE && a * b < 0 ? ", the other way" : "";
  if (Math.abs(less) < NONE) return { words: `${better.toUpperCase()} has none`, better };
  const ratio = Math.abs(more / less);
  if (ratio < ALIKE)
    return {
      words: ratio - 1 < 1e-6 ? `the same${opposite}` : `the same within half a percent${opposite}`,
      better: "same",
    };
  return { words: `${name} has ${timesWords(ratio)} ${row.noun}${opposite}`, better };
}

/** @param {number} ratio above one */
function timesWords(ratio) {
  if (ratio < 1.095) return `${((ratio - 1) * 100).toFixed(ratio < 1.0095 ? 1 : 0)} % more of`;
  if (ratio >= 1000) return "more than 1000 times";
  return `${ratio.toFixed(ratio < 9.95 ? 1 : 0)} times`;
}

/** @param {number} a @param {number} b @returns {Compared} */
function nearerToOne(a, b) {
  const [offA, offB] = [Math.abs(a - 1), Math.abs(b - 1)];
  if (Math.abs(offA - offB) < ALIKE - 1) return { words: "the same within half a percent", better: "same" };
  const better = offA < offB ? "a" : "b";
  return { words: `${better.toUpperCase()} is nearer to 1, where each end has its own cylinder`, better };
}

/** @param {number} a @param {number} b @returns {Compared} */
function counted(a, b) {
  if (a === b) return { words: "the same", better: "same" };
  const better = a < b ? "a" : "b";
  return { words: `${better.toUpperCase()} takes ${Math.abs(a - b)} fewer`, better };
}

/**
 * How the rows fall, without weighing one against another.
 * @param {{label: string, better: SideName|"same"|null}[]} rows
 */
export function tally(rows) {
  const of = (/** @type {SideName|"same"|null} */ name) => rows.filter((each) => each.better === name);
  const named = (/** @type {typeof rows} */ some) =>
    some.length && some.length <= 3 ? ` (${some.map((each) => each.label.toLowerCase()).join("; ")})` : "";
  const parts = [];
  for (const name of /** @type {const} */ (["a", "b"])) {
    const some = of(name);
    if (some.length) parts.push(`${name.toUpperCase()} is the better in ${some.length}${named(some)}`);
  }
  if (of("same").length) parts.push(`${of("same").length} ${of("same").length === 1 ? "is" : "are"} the same`);
  if (of(null).length) parts.push(`${of(null).length} ${of(null).length === 1 ? "does" : "do"} not compare`);
  return parts.length ? `Of ${rows.length} numbers ${listed(parts)}.` : "";
}

/** @param {string[]} names */
export function listed(names) {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}
