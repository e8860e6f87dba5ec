"""The answers as plain dictionaries, as they leave the server and the command line, for tests that look into them."""

from collections.abc import Mapping
from typing import Any

from app.document.messages import Message
from app.document.models import Mount
from app.results import detail as detail_module
from app.results import readout as readout_module
from app.results.answer import as_plain
from app.working import working as typed_working


def readout(mount: Mount, strokes: Mapping[str, object] | None = None) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(readout_module.readout(mount, strokes))
    return answer


def detail(mount: Mount, strokes: Mapping[str, object] | None = None) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(detail_module.detail(mount, strokes))
    return answer


def working(
    mount: Mount, strokes: Mapping[str, object], cylinder: object, end: object, system: object = "metric"
) -> dict[str, Any]:
    answer: dict[str, Any] = as_plain(typed_working(mount, strokes, cylinder, end, system))
    return answer


def said(message: Mapping[str, Any]) -> str:
    """A message's sentence in mm, kN and MPa."""
    return typed(Message(**message).filled())


def typed(text: str) -> str:
    """A sentence as one types it: with plain spaces where a number and its unit are kept on one line."""
    return text.replace("\N{NO-BREAK SPACE}", " ")
