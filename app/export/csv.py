"""The readout as a table for a spreadsheet: one row a number, with its unit beside it.

Columns: section, item, quantity, value, unit. Metric numbers are in the document's units, the others in inches, pounds
of force and psi; each has twelve figures at the most, beyond which a sum of binary fractions says nothing. A ratio has
no unit. A number that is not there has an empty value, and the section ``absent`` says why, by its path in the readout.
"""

import csv
import io
import re
from collections.abc import Iterator
from typing import TypeAlias

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName, Point
from app.document.units import CUSTOMS, QUANTITIES, Measure, System, in_trade
from app.results.actuators import Actuator
from app.results.answer import Heights
from app.results.budget import Budget
from app.results.coupling import Coupling
from app.results.detail import Detail, detail_of
from app.results.dial import Dial, DialSource
from app.results.forces import JointForce
from app.results.readout import Readout, readout_of
from app.results.spread import SpreadCase
from app.results.standing import BodyMotion, Mobility, Standing
from app.results.valve import Ways

COLUMNS = ("section", "item", "quantity", "value", "unit")

MM, N, MPA, DEGREES = "mm", "N", "MPa", "degrees"
PER_MM, SPEED, M = "mm/mm", "mm/s", "m"

_MEASURES: dict[str, Measure] = {MM: "fine", N: "force", MPA: "pressure", SPEED: "speed", M: "way"}


def shown_in(unit: str, system: System) -> tuple[str, float]:
    """What a table in a system shows for a unit of the document, and how many document units it is."""
    if CUSTOMS[system].sign == MM:
        return unit, 1.0
    if unit == PER_MM:
        sign = QUANTITIES["fine"][system].unit
        return f"{sign}/{sign}", 1.0
    shown = QUANTITIES[_MEASURES[unit]][system] if unit in _MEASURES else None
    return (shown.unit, shown.factor) if shown else (unit, 1.0)


FIGURES = 12
NOISE = 1e-12
"""What is smaller is what rounding leaves of nought."""

Row: TypeAlias = tuple[str, str, str, object, str]

_PASSED_OVER = r"\s\"\x00-\x20\u200b-\u200f\u2060\ufeff"
"""What a spreadsheet may drop before it looks at what a cell begins with."""

_RISKY = re.compile(f"(^|[;\t\r\n])([{_PASSED_OVER}]*)(?=[=+\\-@＝＋－＠])")


def csv_bytes(analysis: Analysis, system: System = "metric") -> bytes:
    """The readout of an analysis as a file, in the units of a system."""
    return as_csv(analysis.mount, readout_of(analysis), detail_of(analysis), system).encode()


def as_csv(mount: Mount, answer: Readout, more: Detail, system: System = "metric") -> str:
    """The readout of a mount and what is worked out beyond it, as CSV after RFC 4180.

    With a byte order mark, so that UTF-8 is recognised.
    """
    text = io.StringIO()
    table = csv.writer(text, lineterminator="\r\n")
    table.writerow(COLUMNS)
    for section, item, quantity, value, unit in (*rows(mount, answer), *_detail(more)):
        shown, factor = shown_in(unit, system)
        cells = (section, item, in_trade(quantity, system), value, shown)
        table.writerow([_cell(each, system, factor) for each in cells])
    return "\ufeff" + text.getvalue()


def rows(mount: Mount, answer: Readout) -> Iterator[Row]:
    """Every number of the readout."""
    yield "mount", "", "title", mount.title, ""
    yield from _mobility(answer.mobility)
    if answer.pose:
        yield from _pose(answer.pose)
    for name, entry in (answer.actuators or {}).items():
        yield from _cylinder(name, entry)
    if answer.coupling:
        yield from _coupling(answer.coupling)
    for name, force in (answer.forces or {}).items():
        yield from _joint(name, force)
    if answer.budget:
        yield from _budget(answer.budget)
    if answer.dial:
        yield from _dial(answer.dial)
    for warning in answer.warnings:
        yield "warning", ", ".join(warning.members), warning.code, warning, ""
    for path, reason in answer.absent.items():
        yield "absent", path, "reason", reason, ""


def safe(text: str) -> str:
    """Text that no spreadsheet takes for a formula.

    What starts with = + - or @ gets an apostrophe before it, whatever blanks, quotes or invisible characters come
    first; so does what would start a cell where the spreadsheet splits at semicolons, tabs or line ends. The danger and
    the remedy: OWASP, CSV Injection.
    """
    return _RISKY.sub(r"\1\2'", text)


def _cell(value: object, system: System, factor: float) -> object:
    if isinstance(value, Message):
        value = value.filled(system)
    if isinstance(value, str):
        return safe(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return shortened(value / factor) if isinstance(value, float) else value


def shortened(number: float) -> float:
    """A number with the figures that matter: 0.3 for 0.30000000000000004, and no minus before nought."""
    return float(f"{number:.{FIGURES}g}") if abs(number) >= NOISE else 0.0


def _point(section: str, item: str, quantity: str, point: Point | None, unit: str) -> Iterator[Row]:
    x, y = point or (None, None)
    yield section, item, f"{quantity} x".strip(), x, unit
    yield section, item, f"{quantity} y".strip(), y, unit


def _ends(
    section: str,
    item: str,
    quantity: str,
    heights: Heights | Actuator | Dial | DialSource | dict[EndName, float] | None,
    unit: str,
) -> Iterator[Row]:
    for end in ENDS:
        yield section, item, f"{quantity} {end} end".strip(), _of(heights, end), unit


def _of(heights: object, end: EndName) -> object:
    return heights[end] if isinstance(heights, dict) else getattr(heights, end, None)


def _mobility(held: Mobility) -> Iterator[Row]:
    yield "mobility", "", "state", held.state, ""
    yield "mobility", "", "free motions", held.freedom, ""
    yield "mobility", "", "constraints too many", held.redundant, ""
    for name in held.members:
        yield "mobility", name, "involved", True, ""
    for name in held.freeing:
        yield "mobility", name, "taken away alone, frees the mount", True, ""
    for number, motion in enumerate(held.motion, 1):
        yield from _motion("mobility", f"motion {number}", motion)


def _motion(section: str, name: str, motion: dict[str, BodyMotion]) -> Iterator[Row]:
    for body, moved in motion.items():
        yield from _point(section, body, f"{name}: point", moved.at, MM)
        yield from _point(section, body, f"{name}: shift", moved.shift, MM)
        yield section, body, f"{name}: turn", moved.turn, DEGREES


def _pose(pose: Standing) -> Iterator[Row]:
    for end in ENDS:
        yield from _point("pose", "blade", f"{end} end", getattr(pose.ends, end), MM)
    yield "pose", "blade", "cross fall", pose.slope, ""
    yield "pose", "", "share of the movement asked for that it went", pose.fraction, ""
    for name, move in pose.command.items():
        yield "pose", name, "longer than drawn", move, MM
    if pose.stopped:
        yield "pose", ", ".join(pose.stopped.members), "stopped", pose.stopped, ""
    for name, standing in pose.members.items():
        if standing.ends is None:
            yield from _point("pose", name, "", standing.at, MM)
            continue
        for number, at in enumerate(standing.ends, 1):
            yield from _point("pose", f"{name} / {number}", "", at, MM)
        yield "pose", name, "length", standing.length, MM
        if standing.extension is not None:
            yield "pose", name, "extension", standing.extension, MM
    for body, stands in pose.bodies.items():
        yield from _point("pose", body, "point as drawn", stands.drawn, MM)
        yield from _point("pose", body, "point stands at", stands.at, MM)
        yield "pose", body, "turn", stands.angle, DEGREES
    yield from _motion("pose", "hardly held", pose.yielding or {})


def _cylinder(name: str, entry: Actuator) -> Iterator[Row]:
    yield from _ends("cylinder", name, "per unit longer,", entry, PER_MM)
    yield "cylinder", name, "lead", entry.lead, ""
    yield "cylinder", name, "coupling", entry.coupling, ""
    yield from _point("cylinder", name, "instant centre", entry.instant_centre, MM)
    for line in entry.centre_lines:
        yield from _point("cylinder", name, f"centre line of {line.member}: through", line.through, MM)
        yield from _point("cylinder", name, f"centre line of {line.member}: toward", line.toward, MM)
    if seen := entry.sensors:
        for side in ENDS:
            yield "cylinder", name, f"per unit longer, {side} sensor", getattr(seen, side), PER_MM
        yield "cylinder", name, "lead at the sensors", seen.lead, ""
        yield "cylinder", name, "coupling at the sensors", seen.coupling, ""
    for quantity, key, unit in (
        ("force under the load, + pushed shorter", "force", N),
        ("side that carries it", "side", ""),
        ("pressure under the load", "pressure", MPA),
        ("force over load", "load_ratio", ""),
        ("force under the weight, + pushed shorter", "weight_force", N),
        ("relief setting", "relief", MPA),
        ("pressure over relief setting", "relief_share", ""),
    ):
        yield "cylinder", name, quantity, getattr(entry, key), unit
    for way in ("lengthen", "shorten"):
        yield from _ends("cylinder", name, f"speed, {way},", _way(entry.speed, way), SPEED)
        yield from _ends("cylinder", name, f"smallest step, {way},", _way(entry.step, way), MM)
    yield "cylinder", name, "extension", entry.extension, MM
    yield "cylinder", name, "stroke", entry.stroke, MM


def _way(ways: Ways | None, way: str) -> Heights | None:
    return getattr(ways, way) if ways else None


def _coupling(together: Coupling) -> Iterator[Row]:
    yield "coupling", "", "worst", together.worst, ""
    yield "coupling", "", "taken at the", together.at, ""
    yield "coupling", "", "interaction", together.interaction, ""
    yield "coupling", "", "left of an error after a round of correcting in turn", together.residual, ""
    yield "coupling", "", "rounds to a hundredth", together.rounds, ""
    for end, moves in (together.moves or {}).items():
        for name, move in moves.items():
            yield "coupling", name, f"to raise the {end} end alone, per unit", move, PER_MM


def _joint(name: str, force: JointForce) -> Iterator[Row]:
    yield from _point("force", name, "under the load,", force.load, N)
    yield from _point("force", name, "under the weight,", force.weight, N)
    yield from _point("force", name, "together,", force.together, N)
    yield "force", name, "worst", force.worst, N
    yield "force", name, "stall, the first cylinder at relief", force.stall, N
    yield "force", name, "rating", force.rating, N
    yield "force", name, "worst or stall over rating", force.use, ""


def _budget(budget: Budget) -> Iterator[Row]:
    yield "budget", "", "tolerance", budget.tolerance, MM
    yield "budget", "", "inside the tolerance by the linear sums", budget.inside, ""
    if first := budget.reverses_at:
        yield "budget", first.joint, "first push to reverse, at this multiple of the load", first.multiple, ""
    for end in ENDS:
        totals, item = budget.of(end), f"{end} end"
        for key in ("low", "high", "worst", "worst_under_load", "band", "rss"):
            yield "budget", item, key.replace("_", " "), getattr(totals, key), MM
        for case, blade in (("low", totals.blade_at_low), ("high", totals.blade_at_high)):
            yield from _ends("budget", item, f"at its {case},", blade, MM)
        for case, blade in (("lowest", totals.play_at_low), ("highest", totals.play_at_high)):
            yield from _ends("budget", item, f"at its {case} by play alone,", blade, MM)
    for end in ENDS:
        for source in budget.of(end).sources:
            words = f"{end} end, {source.kind}"
            yield "source", source.id, f"{words}, low", source.low, MM
            yield "source", source.id, f"{words}, high", source.high, MM
            yield "source", source.id, f"{words}, share of the worst", source.share, ""
            for side, moved in zip(("low", "high"), source.moved or (), strict=False):
                yield "source", source.id, f"{words}, moved by the load, {side}", moved, MM
            yield "source", source.id, f"{words}, push reverses at this multiple of the load", source.reverses_at, ""
            if source.play:
                yield "source", source.id, f"{words}, play", source.play, ""


def _dial(dial: Dial) -> Iterator[Row]:
    yield from _ends("dial", "", "reads at the", dial, MM)
    yield from _ends("dial", "", "not known, more or less, at the", dial.unsure, MM)
    for source in dial.sources:
        yield from _ends("dial", source.id, f"{source.kind},", source, MM)
        yield from _ends("dial", source.id, f"{source.kind}, not known, more or less,", source.unsure, MM)
    if dial.note:
        yield "dial", "", "note", dial.note, ""


def _detail(more: Detail) -> Iterator[Row]:
    """True worst and its verdict, spread and what the rss covers, and how far play may grow."""
    yield "true worst", "", "inside the tolerance by the true worst", more.inside, ""
    for end in ENDS if more.worst else ():
        found = more.worst.of(end) if more.worst else None
        for way, each in (("low", found.low), ("high", found.high)) if found else ():
            yield "true worst", f"{end} end", f"{way}, the farthest that was found", each.value if each else None, MM
            yield "true worst", f"{end} end", f"{way}, by the linear sum", each.linear if each else None, MM
    if more.spread:
        yield from _spread("nothing known of the play", more.spread)
    if more.spread and more.spread.pressed:
        yield from _spread("pressed as the loads come", more.spread.pressed)
    if more.wear:
        yield "wear", "", "all play may grow by this factor, by the linear sums", more.wear.factor, ""
        for joint, limit in more.wear.joints.items():
            yield "wear", joint, "clearance it may have alone, by the linear sums", limit, MM
    for path, reason in more.absent.items():
        yield "absent", path, "reason", reason, ""


def _spread(question: str, case: SpreadCase) -> Iterator[Row]:
    yield "spread", question, "draws", case.draws, ""
    yield "spread", question, "share outside the tolerance at either end", case.outside, ""
    for end in ENDS:
        found = case.left if end == "left" else case.right
        for limits, words in ((found.interval_95, "95 %"), (found.interval_99_7, "99.7 %")):
            for limit, which in zip(limits, ("from", "to"), strict=True):
                yield "spread", question, f"{end} end, {words} {which}", limit, MM
        yield "spread", question, f"{end} end, each limit more or less", found.plus_minus, MM
        yield "spread", question, f"{end} end, share of draws within the rss", found.within_rss, ""
