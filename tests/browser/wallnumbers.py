"""What may stand on the wall: the numbers of a board, worked out again from what ``POST /readout`` answers."""

import math
import re
from dataclasses import dataclass
from typing import Any, TypeAlias

from app.document.units import QUANTITIES, Measure, System

OTHER = {"left": "right", "right": "left"}
_NUMBER = re.compile(r"(?<![\w.])[+−-]?\d+(?:\.\d+)?")

Shown: TypeAlias = tuple[float, Measure]
"""A number in document units and what it measures."""


@dataclass(frozen=True)
class Stand:
    """A mount as it stands: its document, its readout, the cylinder in hand and the units of the page."""

    mount: dict[str, Any]
    found: dict[str, Any]
    chosen: str
    system: System

    @property
    def actuator(self) -> dict[str, Any]:
        found: dict[str, Any] = self.found["actuators"][self.chosen]
        return found

    @property
    def load(self) -> float:
        return math.hypot(*map(float, self.mount["load"]["force"]))

    @property
    def worse(self) -> str:
        budget = self.found["budget"]
        return "left" if budget["left"]["worst"] > budget["right"]["worst"] else "right"

    def sources(self, kind: str, end: str | None = None) -> list[dict[str, Any]]:
        return [each for each in self.found["budget"][end or self.worse]["sources"] if each["kind"] == kind]

    @property
    def oil(self) -> float:
        """What the oil of the cylinder in hand costs at the end it leads, mm."""
        source = next(each for each in self.sources("oil", self.actuator["lead"]) if each["member"] == self.chosen)
        return max(abs(float(source["low"])), abs(float(source["high"])))

    @property
    def slop(self) -> float:
        """What play alone does at the worse end from stop to stop, mm."""
        return sum(float(each["high"]) - float(each["low"]) for each in self.sources("clearance"))


def answer(stand: Stand, question: str, worst: float) -> float:
    """What a question comes to, in document units; ``worst`` is what ``POST /worst`` says."""
    dial, actuator = stand.found["dial"], stand.actuator
    match question:
        case "ends":
            return float(actuator["coupling"]) * (25.4 if stand.system == "inch" else 10)
        case "lever":
            return abs(float(actuator[actuator["lead"]]))
        case "slop":
            return stand.slop
        case "dial":
            return float(max((dial["left"], dial["right"]), key=abs))
        case "oil":
            return stand.oil
        case "turns":
            return abs(float(stand.found["coupling"]["residual"]))
        case "load":
            return float(actuator["load_ratio"])
        case _:
            return worst


def pool(stand: Stand, view: str, worst: dict[str, Any]) -> list[Shown]:
    """Every number that may stand on a board."""
    found, actuator, budget = stand.found, stand.actuator, stand.found["budget"]
    system = stand.system
    lead, far = actuator["lead"], OTHER[actuator["lead"]]
    match view:
        case "ratio":
            raised = 25.4 if system == "inch" else 10.0
            levels = [
                abs(found["pose"]["ends"][end][0] - actuator["instant_centre"][0])
                for end in ("left", "right")
                if actuator["instant_centre"]
            ]
            turned: list[Shown] = [(actuator[end], "ratio") for end in (lead, far)]
            other = abs(actuator["coupling"]) * raised
            numbers: list[Shown] = [(each, "length") for each in levels]
            return [*numbers, *turned, (actuator["coupling"], "ratio"), (other, "error"), (raised, "error"), ONE]
        case "lever":
            small, gain = (0.254 if system == "inch" else 0.1), abs(actuator[lead])
            forces: list[Shown] = [(stand.load, "force"), (abs(actuator["force"] or 0), "force")]
            return [(gain, "ratio"), (small, "error"), (small * gain, "error"), *forces, ONE]
        case "play":
            gaps = _gaps(stand.mount)
            listed: list[Shown] = [
                number
                for each in stand.sources("clearance")
                for number in (
                    (each["high"], "error"),
                    (2 * each["high"], "error"),
                    (gaps[each["id"]], "error"),
                    (2 * each["high"] / gaps[each["id"]], "ratio"),
                )
            ]
            smaller = sorted((each["high"] for each in stand.sources("clearance")), reverse=True)[3:]
            rest: list[Shown] = [
                (sum(smaller), "error"),
                (2 * sum(smaller), "error"),
                (float(len(smaller)), "count"),
            ]
            return [*listed, *rest, (stand.slop, "error"), (stand.slop / 2, "error")]
        case "oil":
            end = actuator["lead"]
            gain, all_of_it = abs(actuator[end]), budget[end]["worst"]
            sums: list[Shown] = [
                (all_of_it, "error"),
                (all_of_it - stand.oil, "error"),
                (stand.oil / all_of_it, "percent"),
            ]
            return [(stand.oil, "error"), (stand.oil / gain, "error"), (gain, "ratio"), (stand.load, "force"), *sums]
        case "turns":
            residual, rounds = found["coupling"]["residual"], found["coupling"]["rounds"]
            return [(abs(residual), "percent"), (float(rounds or 0), "count")]
        case "error":
            kinds = {each["kind"] for each in budget[stand.worse]["sources"]}
            side = "high" if budget[stand.worse]["high"] >= -budget[stand.worse]["low"] else "low"
            parts = [sum(abs(each[side]) for each in stand.sources(kind)) for kind in kinds]
            true = [abs(worst["worst"][end][way]["value"]) for end in OTHER for way in ("low", "high")]
            tolerance = stand.mount["tolerance"]
            all_of_it = [budget[stand.worse]["worst"], *true]
            outside = [each - tolerance for each in all_of_it]
            return [(each, "error") for each in (*parts, *all_of_it, *outside, tolerance, 0.0)]
        case _:
            raise AssertionError(f"no board {view}")


ONE: Shown = (1.0, "count")


def _gaps(mount: dict[str, Any]) -> dict[str, float]:
    """The clearance of every joint, mm, by its name."""
    found: dict[str, float] = {}
    for member in mount["members"]:
        if "ends" in member:
            found |= {f"{member['id']} / {at + 1}": end.get("clearance", 0) for at, end in enumerate(member["ends"])}
        else:
            found[member["id"]] = member.get("clearance", 0)
    return found


def strangers(words: str, numbers: list[Shown], system: System) -> list[str]:
    """The numbers in some words that are none of those, as they would be shown; parts of a sum may be a digit off."""
    shown = [value / QUANTITIES[measure][system].factor for value, measure in numbers]
    found = []
    for each in _NUMBER.findall(words):
        digits = len(each.partition(".")[2])
        size = abs(float(each.replace("−", "-").replace("+", "")))
        if not any(abs(size - abs(value)) <= 1.01 * 10**-digits for value in shown):
            found.append(each)
    return found
