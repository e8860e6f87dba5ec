"""What a class is asked of any mount, and that the answers are those of the readout."""

from typing import Any

import pytest
from playwright.sync_api import Page

from app.document.models import as_document
from app.shipped import shipped_mounts
from tests.answers import readout
from tests.browser.test_modules import call
from tests.samples import crossed

ASKED = """(async () => {
  const { firstState } = await import("/static/core/store.js");
  const [mount, answered, chosen, system] = a;
  return m.questionsOf({ ...firstState(), mount, answered, chosen, system }).map((each) => each.question);
})()"""


def answers(found: dict[str, Any], cylinder: str, raised: float) -> dict[str, float]:
    """Every question's answer, worked out from a readout, in document units."""
    actuator, budget, dial = found["actuators"][cylinder], found["budget"], found["dial"]
    worse = "left" if budget["left"]["worst"] > budget["right"]["worst"] else "right"
    lead = actuator["lead"]
    loose = [each for each in budget[worse]["sources"] if each["kind"] == "clearance"]
    oil = [each for each in budget[lead]["sources"] if each["kind"] == "oil" and each["member"] == cylinder]
    read = max(("right", "left"), key=lambda end: abs(dial[end]))
    all_there = {
        "ends": actuator["coupling"] * raised,
        "lever": abs(actuator[lead]),
        "slop": sum(each["high"] - each["low"] for each in loose),
        "load": actuator["load_ratio"],
        "dial": dial[read],
        "worst": budget[worse]["worst"],
    }
    if oil and max(-oil[0]["low"], oil[0]["high"]) > 1e-9:
        all_there["oil"] = max(-oil[0]["low"], oil[0]["high"])
    if found["coupling"]["residual"] is not None:
        all_there["turns"] = abs(found["coupling"]["residual"])
    return all_there


@pytest.mark.parametrize(("name", "system"), crossed([*shipped_mounts()], ["metric", "inch"]))
def test_every_shipped_mount_has_its_questions_with_the_answers_of_the_readout(
    modules: Page, name: str, system: str
) -> None:
    mount = shipped_mounts()[name]
    found = readout(mount)
    for cylinder in mount.cylinders:
        if found["actuators"][cylinder.id]["coupling"] is None:
            continue
        asked = call(modules, "core/questions.js", ASKED, as_document(mount), found, cylinder.id, system)
        expected = answers(found, cylinder.id, 25.4 if system == "inch" else 10.0)
        assert {each["name"]: each["answer"] for each in asked} == pytest.approx(expected)
        assert len(asked) >= 5
        foreign = (" mm", " kN") if system == "inch" else (" in,", " in.", " lbf")
        assert [each["words"] for each in asked if any(unit in each["words"] for unit in foreign)] == []
