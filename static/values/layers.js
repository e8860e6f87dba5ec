/**
 * The numbers a mount has over its travel: what each is called, what it measures, which layers it is made of.
 * @module values/layers
 */

/**
 * @typedef {Object} Told one number over the travel, or one for each end or cylinder
 * @property {string} name
 * @property {string} label
 * @property {import("./units.js").Quantity} quantity
 * @property {string} unit written after it where the quantity has none
 * @property {{layer: string, words: string, hue?: number}[]} lines
 */

/** @typedef {{kind: string, id: string, rating?: unknown, ends?: {rating?: unknown}[]}} Rated */

/** @param {Rated} member */
function isRated({ rating, ends }) {
  return Boolean(rating) || (ends ?? []).some((end) => end.rating);
}

/**
 * @param {{tolerance?: number|null, load?: unknown, members: Rated[]}} mount
 * @returns {Told[]} in the order in which they are offered
 */
export function toldOver(mount) {
  const cylinders = mount.members.filter(({ kind }) => kind === "cylinder").map(({ id }) => id);
  /** @param {string} name @returns {Told["lines"]} */
  const ends = (name) => [
    { layer: `${name}left`, words: "left end" },
    { layer: `${name}right`, words: "right end" },
  ];
  /** @type {Told[]} */
  const found = [
    { name: "worst", label: "worst edge error", quantity: "error", unit: "", lines: ends("worst_") },
    {
      name: "coupling",
      label: "coupling",
      quantity: "ratio",
      unit: "",
      lines: cylinders.map((id, index) => ({ layer: `coupling:${id}`, words: id, hue: index % 8 })),
    },
  ];
  if (cylinders.length === 2)
    found.push({
      name: "residual",
      label: "left by a round in turn",
      quantity: "percent",
      unit: "",
      lines: [{ layer: "residual", words: "of what an end was out" }],
    });
  if (mount.load) {
    found.push(
      {
        name: "load_ratio",
        label: "cylinder load for edge load",
        quantity: "ratio",
        unit: "×",
        lines: [{ layer: "load_ratio", words: "hardest cylinder" }],
      },
      {
        name: "pressure",
        label: "pressure",
        quantity: "pressure",
        unit: "",
        lines: [{ layer: "pressure", words: "hardest cylinder" }],
      },
      {
        name: "under_load",
        label: "what the load moves",
        quantity: "error",
        unit: "",
        lines: ends("worst_under_load_"),
      },
    );
  }
  if (mount.load && mount.members.some(isRated))
    found.push({
      name: "use",
      label: "share of a joint's rating",
      quantity: "percent",
      unit: "",
      lines: [{ layer: "use", words: "most used joint" }],
    });
  found.push(
    { name: "height", label: "height of the ends", quantity: "fine", unit: "", lines: ends("") },
    {
      name: "condition",
      label: "nearness to a dead centre",
      quantity: "ratio",
      unit: "",
      lines: [{ layer: "condition", words: "condition: without bound at one" }],
    },
  );
  return found;
}

/**
 * What the plane can be shaded by: one layer each.
 * @param {Parameters<typeof toldOver>[0]} mount
 * @returns {{layer: string, label: string, told: Told}[]}
 */
export function shadesOf(mount) {
  return toldOver(mount).flatMap((told) => {
    if (told.name === "worst") return [{ layer: "worst", label: told.label, told }];
    if (["under_load", "height", "use"].includes(told.name)) return [];
    const several = told.lines.length > 1;
    return told.lines.map(({ layer, words }) => ({
      layer,
      label: several ? `${told.label}, ${words}` : told.label,
      told,
    }));
  });
}
