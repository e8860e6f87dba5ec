"""The linear sums do not hold with every error at its worst."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message
from app.results.linearity import WARN_AT, worst_estimated


def not_linear(analysis: Analysis) -> Iterator[Message]:
    """By how much the edge is off the linear sum, at the worse end and way."""
    share = worst_estimated(analysis).share
    if share <= WARN_AT:
        return
    if share > 1:
        text = (
            "with every error at its linear worst the mount stands quite elsewhere: the linear sums do not hold here, "
            "go by the true worst"
        )
        yield Message("not-linear", text)
    else:
        text = (
            "with every error at its linear worst the edge is about {share} off the linear sum: "
            "go by the true worst, which is searched when the hand rests"
        )
        yield Message("not-linear", text, values={"share": (share, "percent")})
