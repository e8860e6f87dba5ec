"""The strokes asked for could not be followed to their end."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message


def stopped(analysis: Analysis) -> Iterator[Message]:
    """At a cylinder's end, at a dead centre, or too far in one go."""
    if analysis.pose.stopped:
        yield analysis.pose.stopped
