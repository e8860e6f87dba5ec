import assert from "node:assert/strict";
import { test } from "node:test";

import { chart } from "../../static/panels/curves.js";

test("a number that is nought over the whole stroke is drawn as a level line", () => {
  const over = {
    cylinders: ["lift"],
    strokes: { lift: [0, 50, 100] },
    layers: { worst_left: new Float32Array([0, 0, 0]) },
    worst: {},
  };
  const drawn = chart(
    /** @type {import("../../static/panels/curves.js").Drawn} */ (
      /** @type {unknown} */ ({
        over,
        told: {
          name: "worst",
          label: "worst edge error",
          quantity: "error",
          lines: [{ layer: "worst_left", words: "left end" }],
        },
        tolerance: null,
        at: 50,
        dead: [],
        system: "metric",
        width: 300,
        height: 120,
      })
    ),
  );
  assert.doesNotMatch(JSON.stringify(drawn), /NaN|null,null/);
  assert.match(JSON.stringify(drawn), /"d":"M40(\.0+)? 102(\.0+)?L[^"]*","class":"curve"/);
});
