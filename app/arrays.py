"""Sweeps: arrays of values in, arrays of answers out.

inward = np.linspace(0, 450, 10)
swept = sweep(lambda dx: mount.with_joint("right cylinder / 2", dx=-dx), inward)
swept["budget.right.worst"]                 one number for each value, masked where there is none
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from app.document.errors import BadDocument, Fault, NoSuchName
from app.document.messages import Message
from app.document.models import Mount
from app.document.names import no_entry, no_such
from app.results.readout import readout

Index = tuple[int, ...]
Masked = np.ma.MaskedArray[Any, np.dtype[np.float64]]


class Swept:
    """The answers of a sweep, in the shape of its values.

    ``answers``: an array of readouts (or of what the function gave), None where the document was refused; ``refused``:
    why, by index.
    """

    def __init__(self, answers: NDArray[np.object_], refused: dict[Index, BadDocument]) -> None:
        self.answers = answers
        self.refused = refused

    @property
    def shape(self) -> Index:
        """The shape of all its arrays: that of the values, broadcast together."""
        return self.answers.shape

    def __getitem__(self, path: str) -> Masked:
        """One number of every answer, in its document unit, masked where there is none.

        ``path``: fields and names from the answer on: ``coupling.worst``, ``budget.left.worst``,
        ``actuators.left cylinder.force``. Raises NoSuchName for a path no answer has.
        """
        numbers: Masked = np.ma.MaskedArray(np.zeros(self.shape), mask=True)
        for index, (value, _) in self._found(path):
            if isinstance(value, bool | int | float | np.number):
                numbers[index] = float(value)
            elif value is not None:
                what = f"is {_kind(value)}, not a number; {_inside(value)}"
                raise NoSuchName([Fault(path, what)])
        return numbers

    def why(self, path: str) -> dict[Index, str]:
        """Why there is no number of that path, by the index of the answer that has none."""
        reasons = {index: str(error) for index, error in self.refused.items()}
        for index, (value, lacking) in self._found(path):
            if value is None:
                reasons[index] = lacking
        return dict(sorted(reasons.items()))

    def _found(self, path: str) -> Iterator[tuple[Index, tuple[object, str]]]:
        """The value at a path of every answer that is there, or None with the reason."""
        found: dict[Index, tuple[object, str]] = {}
        fault: NoSuchName | None = None
        for index in np.ndindex(self.shape):
            if self.answers[index] is None:
                continue
            try:
                found[index] = _at(self.answers[index], path)
            except NoSuchName as error:  # a member that only some of the mounts have
                fault = fault or error
                found[index] = None, str(error)
        if fault and all(reason == str(fault) for _, reason in found.values()):
            raise fault
        yield from found.items()


def sweep(function: Callable[..., object], *values: ArrayLike) -> Swept:
    """Call ``function`` with every value of an array, or with every set of values of arrays broadcast together.

    The function gives a mount, whose readout is taken, or an answer of its own, such as
    ``readout(mount, {"lift": each})`` or ``detail(mount)``. What a document does not allow is left masked, and
    ``refused`` says why; raises BadDocument if nothing else came of it, and whatever else the function raises.
    """
    arrays = np.broadcast_arrays(*[np.asarray(each) for each in values])
    shape = arrays[0].shape if arrays else ()
    answers: NDArray[np.object_] = np.full(shape, None, dtype=object)
    refused: dict[Index, BadDocument] = {}
    for index in np.ndindex(shape):
        try:
            given = function(*[each[index].item() for each in arrays])
        except BadDocument as error:
            refused[index] = error
            continue
        answers[index] = readout(given) if isinstance(given, Mount) else given
    if refused and len(refused) == answers.size:
        raise next(iter(refused.values()))
    return Swept(answers, refused)


def _at(answer: object, path: str) -> tuple[object, str]:
    """The value at a path of an answer; or None, and why. Raises NoSuchName."""
    value, rest, general = answer, path.strip(), ""
    while rest:
        if value is None:
            return None, _reason(answer, general)
        key, rest = _step(value, rest, path)
        if isinstance(value, Mapping):
            value = value[key]
        elif isinstance(value, list | tuple):
            value = value[int(key)]
        else:
            value, general = getattr(value, key), f"{general}.{key}".lstrip(".")
    return value, _reason(answer, general) if value is None else ""


def _step(value: object, rest: str, path: str) -> tuple[str, str]:
    """The next key of a path, and what follows it. Names may hold dots and slashes."""
    if isinstance(value, list | tuple):
        found = re.match(r"\.?\[?(\d+)\]?\.?", rest)
        if found and int(found[1]) < len(value):
            return found[1], rest[found.end() :]
        raise no_entry(path, rest.strip("[]"), len(value))
    known = _keys(value)
    for key in sorted(known, key=len, reverse=True):
        if rest == key or rest.startswith((f"{key}.", f"{key}[")):
            return key, rest[len(key) :].removeprefix(".")
    if not known:
        raise NoSuchName([Fault(path, f"goes on after its number; leave out '{rest}'")])
    raise no_such(path, "answer", rest.partition(".")[0], known)


def _keys(value: object) -> list[str]:
    if isinstance(value, Mapping):
        return [str(key) for key in value]
    return [each.name for each in fields(value)] if is_dataclass(value) else []


def _kind(value: object) -> str:
    if isinstance(value, str):
        return f"a word, '{value[:60]}'"
    return (
        "several answers"
        if _keys(value)
        else f"a list of {len(value)}"
        if isinstance(value, list | tuple)
        else "no number"
    )


def _inside(value: object) -> str:
    keys = _keys(value)
    return f"go on with {', '.join(keys[:12])}" if keys else "take it from answers"


def _reason(answer: object, general: str) -> str:
    """Why an answer has nothing there: by its path, or by that of what it stands in; names of members left out."""
    absent: dict[str, Message] = getattr(answer, "absent", {})
    steps = general.split(".")
    paths = [".".join(steps[:count]) for count in range(len(steps), 0, -1)]
    return next((absent[each].filled() for each in paths if each in absent), "there is no number here")
