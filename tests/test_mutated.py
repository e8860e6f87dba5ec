"""Shipped mounts changed at random, a thousand in the test line, a hundred thousand with ``--full``.

Whatever the text, the reader and the readout give an answer whose numbers are all finite, or a refusal in words, and
neither takes long. Some changes are wild (keys gone, other types, deep nesting), some are of the kind a sound document
has (another number), so that what is odd and not refused is worked out too.
"""

import copy
import json
import random
import time
from collections import Counter
from typing import Any

import pytest

from app.document.errors import SketcherError
from app.document.models import as_document
from app.document.reading import decode, read_mount
from app.results.readout import readout
from app.shipped import shipped_mounts
from app.web.answers import as_json

SAMPLE, ALL = 1_000, 100_000
LONGEST_S = 2.0
SEED = 20261127

NUMBERS = (0, -0.0, 1, -1, 1e-9, -1e-9, 0.001, 1e5, -1e5, 1e9, -1e9, 1e30, 1e308, -1e308, 10**400, float("nan"), -1e400)
TEXTS = ("", " ", "NaN", "Infinity", "-1e999", "0x10", "frame", "blade", "left", "pin", "\ud800", "x" * 200, "ends")
VALUES: tuple[object, ...] = (
    *NUMBERS,
    *TEXTS,
    None,
    True,
    False,
    [],
    {},
    [[]],
    {"on": "frame"},
    [0, 0],
    [1e308, -1e308],
)

DEEP = "nested deeply"
"""Stands in the text for that many brackets."""

Document = dict[str, Any]
Spot = tuple[Any, Any]


def spots(value: object) -> list[Spot]:
    """Every place in a document: what holds it, and its key there."""
    keys = list(value) if isinstance(value, dict) else list(range(len(value))) if isinstance(value, list) else []
    return [each for key in keys for each in ((value, key), *spots(value[key]))]  # type: ignore[index] # it has keys


def at_random(rng: random.Random, document: Document) -> None:
    """One wild change, anywhere."""
    where, key = rng.choice(spots(document))
    match rng.randrange(7):
        case 0:
            del where[key]
        case 1:
            where[key] = copy.deepcopy(rng.choice(VALUES))
        case 2:
            other, its = rng.choice(spots(document))
            where[key] = copy.deepcopy(other[its])
        case 3 if isinstance(where, list):
            where += copy.deepcopy(where) * rng.choice((1, 1, 30))
        case 4:
            where[key] = rng.choice(([where[key]], {"at": where[key]}, DEEP))
        case 5 if isinstance(where, dict):
            where[rng.choice(TEXTS)] = copy.deepcopy(rng.choice(VALUES))
        case _:
            where[key] = str(where[key])


def of_its_kind(rng: random.Random, document: Document) -> None:
    """One change a sound document could have had: another number, the same place or name twice, a member less."""
    numbers = [spot for spot in spots(document) if type(spot[0][spot[1]]) in (int, float)]
    where, key = rng.choice(numbers)
    match rng.randrange(10):
        case 0:
            where[key] = rng.choice(NUMBERS[:9])
        case 1:
            other, its = rng.choice(numbers)
            where[key] = other[its]
        case 2:
            where[key] = -where[key]
        case 3:
            document["members"].pop(rng.randrange(len(document["members"])))
        case 4:
            one, other = rng.choices(document["members"], k=2)
            for each in set(one) & set(other) & {"at", "ends", "id"}:
                one[each] = copy.deepcopy(other[each])
        case 5:
            where[key] *= 10 ** rng.uniform(-6, 6)
        case _:
            where[key] += rng.uniform(-0.3, 0.3) * (abs(where[key]) + 1)


def mutated(rng: random.Random) -> str:
    """The text of a shipped mount after one to four changes, half of the time none of them wild."""
    document = as_document(rng.choice(list(shipped_mounts().values())))
    change = rng.choice((at_random, of_its_kind))
    for _ in range(rng.randint(1, 4)):
        if change is at_random or document["members"]:
            change(rng, document)
    depth = rng.choice((3, 100, 1500, 15_000))
    return json.dumps(document).replace(f'"{DEEP}"', "[" * depth + "]" * depth)


def outcome(rng: random.Random, text: str) -> str:
    """What becomes of a document: the state of an answer that is finite throughout, or the kind of refusal."""
    try:
        mount = read_mount(decode(text))
        strokes = {each.id: rng.choice((0.0, 12.5, -1e3)) for each in mount.cylinders}
        answer = readout(mount, strokes)
    except SketcherError as error:
        return error.code if all(fault.filled() for fault in error.faults) else "without words"
    as_json(answer)
    return answer.mobility.state


def test_whatever_becomes_of_a_mount_it_is_answered_in_finite_numbers_or_refused_in_words(
    request: pytest.FixtureRequest,
) -> None:
    rng = random.Random(SEED)  # noqa: S311 - no secret
    slowest, outcomes = (0.0, ""), Counter[str]()
    for _ in range(ALL if request.config.getoption("full") else SAMPLE):
        text = mutated(rng)
        since = time.perf_counter()
        try:
            outcomes[outcome(rng, text)] += 1
        except Exception as error:
            pytest.fail(f"{error!r} of {text[:4000]}")
        slowest = max(slowest, (time.perf_counter() - since, text))
    print(f"{outcomes}, slowest {slowest[0]:.2f} s")
    assert slowest[0] < LONGEST_S, f"{slowest[0]:.2f} s for {slowest[1][:4000]}"
    assert outcomes["without words"] == 0
    assert min(outcomes[each] for each in ("located", "loose", "bad-document", "unreadable")) > 0
