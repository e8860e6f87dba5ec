"""The answers as plain dictionaries, as they leave the server and the command line, for tests that look into them."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import TypeAdapter

from app.document.messages import Message, filled
from app.document.models import Mount
from app.results import detail as detail_module
from app.results import readout as readout_module
from app.results.answer import as_plain
from app.results.spread import spread_of
from app.sources.source import Source
from app.working import working as typed_working


def readout(mount: Mount, strokes: Mapping[str, object] | None = None) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(readout_module.readout(mount, strokes))
    return answer


def detail(mount: Mount, strokes: Mapping[str, object] | None = None) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(detail_module.detail(mount, strokes))
    return answer


def judged(mount: Mount, strokes: Mapping[str, object] | None = None) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(detail_module.judged(mount, strokes))
    return answer


def working(
    mount: Mount, strokes: Mapping[str, object], cylinder: object, end: object, system: object = "metric"
) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(typed_working(mount, strokes, cylinder, end, system))
    return answer


def spread(listed: Sequence[Source], tolerance: float | None = None) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(spread_of(list(listed), tolerance))
    return answer


def has_shape(answer: object, kind: type) -> bool:
    """Whether a plain answer is of a documented type: every field there, none besides, each of its type."""
    read_back: object = TypeAdapter(kind).validate_json(json.dumps(answer, allow_nan=False), strict=True)
    return bool(as_plain(read_back) == answer)


def said(message: Mapping[str, Any]) -> str:
    """A message's sentence in mm, kN and MPa."""
    return typed(Message(**message).filled())


def sentence(fault: Mapping[str, Any]) -> str:
    """A refused place's sentence in mm, kN, MPa and kg."""
    return typed(filled(fault["text"], fault["values"]))


def reasons(answer: Mapping[str, Any]) -> dict[str, str]:
    """Why numbers of an answer are not there, by their path."""
    return {path: said(message) for path, message in answer["absent"].items()}


def typed(text: str) -> str:
    """A sentence as one types it: with plain spaces where a number and its unit are kept on one line."""
    return text.replace("\N{NO-BREAK SPACE}", " ")
