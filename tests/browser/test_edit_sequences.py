"""Any sequence of edits and undos ends where it began, and every document on the way is sound or refused in words."""

import json
from typing import Any

import pytest
from playwright.sync_api import Page

from app.document.errors import BadDocument, Fault
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.shipped import shipped_mounts
from tests.samples import the_rest

SEQUENCE = """
async ([mount, seed, count]) => {
  const draw = await import('/static/document/draw.js');
  const { duplicated, mirrored } = await import('/static/document/copies.js');
  const { moved, handles } = await import('/static/document/mount.js');
  const { withField, withEdit } = await import('/static/document/edits.js');
  const { withValueAt } = await import('/static/document/places.js');
  const { History } = await import('/static/core/history.js');
  let state = seed;
  const chance = () => { state = (state * 1103515245 + 12345) % 2147483648; return state / 2147483648; };
  const pick = (list) => list[Math.floor(chance() * list.length)];
  const place = () => [Math.round(chance() * 3000 - 1500), Math.round(chance() * 1600 - 100)];
  const bodies = () => ['frame', 'blade', ...(now.bodies ?? [])];
  const hold = () => ({ body: pick(bodies()), at: place() });
  const some = () => new Set(now.members.filter(() => chance() < 0.3).map((each) => each.id));
  const edits = [
    () => moved(now, pick(handles(now)).name, place()),
    () => draw.addLink(now, pick(['rod', 'cylinder']), hold(), hold()),
    () => draw.addJoint(now, pick(['pin', 'slide']), pick(bodies()), hold()),
    () => draw.addBody(now).mount,
    () => (now.bodies?.length ? draw.withoutBody(now, pick(now.bodies)) : now),
    () => (now.bodies?.length ? draw.renamedBody(now, pick(now.bodies), pick(['frame', 'carriage', 'arm'])) : now),
    () => draw.withoutMembers(now, some()),
    () => duplicated(now, { members: some(), lines: new Set() }, 40),
    () => mirrored(now, { members: some(), lines: new Set() }),
    () => withEdit(now, pick(['add-load', 'remove-load', 'add-sensors', 'remove-sensors'])),
    () => withEdit(now, pick(['add-allowance', 'remove-allowance-0'])),
    () => withField({ mount: now, drafts: {} }, 'tolerance', pick([undefined, 3, -1])).mount,
    () => withValueAt(now, 'blade.mass', pick([undefined, 120])),
    () => (now.members.length ? withValueAt(now, 'members[0].id', pick(['', 'left cylinder', 'a / b', 'stay'])) : now),
  ];
  let now = mount;
  const history = new History([{ mount, command: {} }]);
  const seen = [];
  for (let n = 0; n < count; n += 1) {
    if (chance() < 0.25) {
      const step = history.step(chance() < 0.6 ? -1 : 1);
      if (step) now = step.mount;
    } else {
      now = pick(edits)();
      history.push({ mount: now, command: {} });
    }
    seen.push(now);
  }
  let last = history.steps[history.at];
  for (let step = history.step(-1); step; step = history.step(-1)) last = step;
  return { seen, end: last.mount };
}
"""


@pytest.mark.parametrize("seed", [0, 1, *the_rest(*range(2, 8))])
@pytest.mark.parametrize("name", ["3-twin-cylinders", "6-crank-and-drop-rod"])
def test_edits_and_undos_end_where_they_began_and_every_document_is_sound_or_refused_in_words(
    modules: Page, name: str, seed: int
) -> None:
    start = as_document(shipped_mounts()[name])
    found: dict[str, Any] = modules.evaluate(SEQUENCE, [start, seed * 7919 + 17, 60])
    assert found["end"] == start
    for document in found["seen"]:
        mount, faults = read(json.loads(json.dumps(document)))
        assert all(fault.filled() and fault.place for fault in faults)
        assert faults or (mount and read_mount(as_document(mount)) == mount)


def read(document: dict[str, Any]) -> tuple[Mount | None, list[Fault]]:
    try:
        return read_mount(document), []
    except BadDocument as refused:
        return None, refused.faults
