/** Another blade width: what goes along is chosen, and said. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { USUAL, widened, widenedWords, widthOf } from "../../static/pages/compare/widening.js";
import { mountNamed } from "./mounts.js";

const TWIN = mountNamed("3-twin-cylinders");
const ALL_STAY = /** @type {import("../../static/pages/compare/widening.js").Carry} */ ({
  mass: "stays",
  sensors: "stay",
  members: "stay",
});

test("a wider blade weighs more by its length and takes its sensors and the load at its end along", () => {
  const wide = widened(TWIN, 3000, USUAL);
  assert.equal(widthOf(wide), 3000);
  assert.equal(wide.blade.mass, 362.5);
  assert.deepEqual(wide.sensors, { left: [-1250, 1700], right: [1250, 1700] });
  assert.deepEqual(wide.load?.at, [1500, 0]);
  assert.deepEqual(wide.members, TWIN.members);
});

test("what is chosen to stay stays", () => {
  const wide = widened(TWIN, 3000, ALL_STAY);
  assert.equal(wide.blade.mass, 290);
  assert.deepEqual(wide.sensors, TWIN.sensors);
});

test("cylinders that go with the width keep how far they are out", () => {
  const wide = widened(TWIN, 3000, { ...ALL_STAY, members: "width" });
  const [was, now] = [TWIN, wide].map(({ members }) => members.find((each) => each.kind === "cylinder"));
  assert.deepEqual(now?.ends?.[0].at, [-1062.5, was?.ends?.[0].at[1]]);
  assert.equal(now && "retracted" in now && now.retracted, was && "retracted" in was && was.retracted);
});

test("it says what was scaled and what stays", () => {
  const said = widenedWords("A", TWIN, widened(TWIN, 3000, USUAL), USUAL, "metric").replaceAll("\u00a0", " ");
  assert.equal(
    said,
    "A: blade 2400.0 mm to 3000.0 mm wide. Mass by length: 290 kg to 363 kg. Sensors go with the ends. " +
      "Cylinders, rods and pins stay where they were.",
  );
});
