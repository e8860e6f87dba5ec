/** What held dimensions make of a change. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { dimensionsKept, heldDistance, jointPlaces, withHeld, withoutHeld } from "../../static/document/dimensions.js";
import { moved } from "../../static/document/mount.js";
import { fightWords, settled } from "../../static/document/settle.js";
import { mountNamed } from "./mounts.js";

/** @typedef {Dimension["way"]} Way */

const [BARREL, ROD] = ["left cylinder / 1", "left cylinder / 2"];

/** A shipped mount with some dimensions held. @param {...[string, string, Way]} held */
function twin(...held) {
  return held.reduce((mount, [a, b, way]) => withHeld(mount, [a, b], way), mountNamed("3-twin-cylinders"));
}

/** @param {Mount} mount @param {string} joint */
const at = (mount, joint) => jointPlaces(mount).get(joint) ?? [NaN, NaN];

/**
 * Move a joint by so much, and let the dimensions settle.
 * @param {Mount} mount @param {string} joint @param {number} dx @param {number} dy
 */
function pushed(mount, joint, dx, dy) {
  const [x, y] = at(mount, joint);
  return settled(mount, moved(mount, joint, [x + dx, y + dy]));
}

test("a mount without held dimensions is left as it was changed", () => {
  const mount = twin();
  const after = moved(mount, ROD, [1, 2]);
  assert.equal(settled(mount, after).mount, after);
});

test("a joint held level to one that is moved keeps its level distance and its height", () => {
  const mount = twin([BARREL, ROD, "level"]);
  const { mount: next } = pushed(mount, BARREL, 60, 25);
  assert.deepEqual(at(next, ROD), [at(mount, ROD)[0] + 60, at(mount, ROD)[1]]);
});

test("a joint held along follows no farther than it must", () => {
  const mount = twin([BARREL, ROD, "along"]);
  const { mount: next } = pushed(mount, BARREL, 80, 40);
  assert.ok(
    Math.abs(
      heldDistance(next, { between: [BARREL, ROD], way: "along" }) -
        heldDistance(mount, { between: [BARREL, ROD], way: "along" }),
    ) < 1e-8,
  );
  assert.deepEqual(at(next, BARREL), [at(mount, BARREL)[0] + 80, at(mount, BARREL)[1] + 40]);
});

test("a chain of dimensions goes along whole", () => {
  const mount = twin(
    [BARREL, ROD, "level"],
    [ROD, "right cylinder / 2", "level"],
    [ROD, "right cylinder / 2", "upright"],
  );
  const { mount: next } = pushed(mount, BARREL, -30, 0);
  assert.equal(at(next, "right cylinder / 2")[0], at(mount, "right cylinder / 2")[0] - 30);
  assert.equal(at(next, "right cylinder / 1")[0], at(mount, "right cylinder / 1")[0]);
});

test("a joint held to an end of the blade goes only where that lets it", () => {
  const mount = twin(["blade / left", ROD, "level"]);
  const { mount: next } = pushed(mount, ROD, 70, 15);
  assert.deepEqual(at(next, ROD), [at(mount, ROD)[0], at(mount, ROD)[1] + 15]);
  assert.deepEqual(next.blade, mount.blade);
});

test("an end of the blade that is moved takes along what is held to it", () => {
  const mount = twin(["blade / left", ROD, "level"]);
  const [x, y] = mount.blade.left;
  const { mount: next } = settled(mount, moved(mount, "blade/left", [x - 100, y]));
  assert.equal(at(next, ROD)[0], at(mount, ROD)[0] - 100);
});

test("another size moves the second joint, on the side where it is", () => {
  const mount = twin([ROD, BARREL, "upright"], [ROD, "blade / left", "level"]);
  const { mount: next } = settled(mount, mount, [{ index: 0, size: 500 }]);
  assert.equal(at(next, BARREL)[1], at(next, ROD)[1] + 500);
  assert.deepEqual(at(next, ROD), at(mount, ROD));
  const { mount: last } = settled(next, next, [{ index: 1, size: 304.8 }]);
  assert.equal(at(last, ROD)[0], mount.blade.left[0] + 304.8);
});

test("a size that others do not allow is refused with their names, and nothing is moved", () => {
  const mount = twin(
    [BARREL, ROD, "along"],
    [ROD, "right cylinder / 2", "along"],
    ["right cylinder / 2", BARREL, "along"],
  );
  const { mount: next, fighting } = settled(mount, mount, [{ index: 2, size: 90_000 }]);
  assert.equal(next, mount);
  assert.equal(fighting.length, 2);
  assert.match(
    fightWords(fighting),
    /^Held dimensions do not let it: along, 'left cylinder \/ 1' to 'left cylinder \/ 2'/,
  );
});

test("nothing drifts however often a joint is moved there and back", () => {
  let mount = twin([BARREL, ROD, "along"], [ROD, "right cylinder / 2", "along"]);
  const held = () => (mount.dimensions ?? []).map((each) => heldDistance(mount, each));
  const first = held();
  for (let turn = 0; turn < 200; turn += 1)
    mount = pushed(mount, BARREL, turn % 2 ? -37.3 : 37.3, 11.1 * Math.sin(turn)).mount;
  held().forEach((each, index) => assert.ok(Math.abs(each - first[index]) < 1e-6));
});

test("dimensions go with renamed members and leave with those that are taken out", () => {
  const mount = twin([BARREL, ROD, "along"], ["right cylinder / 1", "blade / left", "level"]);
  const renamed = {
    ...mount,
    members: mount.members.map((each) => (each.id === "left cylinder" ? { ...each, id: "lift" } : each)),
  };
  assert.deepEqual(dimensionsKept(mount, renamed).dimensions?.[0].between, ["lift / 1", "lift / 2"]);
  const less = { ...mount, members: mount.members.filter((each) => each.id !== "left cylinder") };
  assert.deepEqual(
    dimensionsKept(mount, less).dimensions?.map((each) => each.between[0]),
    ["right cylinder / 1"],
  );
  assert.ok(!("dimensions" in withoutHeld(dimensionsKept(mount, less), 0)));
});
