"""A cylinder needs more than the relief pressure."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message
from app.results.relief import demands


def over_relief(analysis: Analysis) -> Iterator[Message]:
    """Every cylinder that weight and load ask more of than its relief valve holds."""
    yield from (each.message for each in demands(analysis).values() if each.share > 1)
