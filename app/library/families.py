"""Which mounts are variants of one another: those copied from one kept mount, or from its copies.

What a mount was copied from stands beside it in the library, not in its document: it says nothing of the drawing, and
a document that left the library would name what nobody else has.
"""

from collections.abc import Collection, Iterator, Mapping


def lineage(id: str, origins: Mapping[str, str | None]) -> Iterator[str]:
    """What a mount was copied from, what that was copied from, and so on; a circle is gone round once."""
    seen = {id}
    origin = origins.get(id)
    while origin is not None and origin not in seen:
        yield origin
        seen.add(origin)
        origin = origins.get(origin)


def family_of(id: str, origins: Mapping[str, str | None]) -> tuple[str, str | None]:
    """The kept mount that a mount and its variants all come from, and the shipped mount that one was copied from.

    ``origins`` says of every kept id, deleted or not, what it was copied from. Two mounts that both began as a copy of
    a shipped one are no variants of one another: most begin so.
    """
    above = [id, *lineage(id, origins)]
    kept = [each for each in above if each in origins]
    return kept[-1], above[-1] if above[-1] not in origins else None


def parent_among(id: str, origins: Mapping[str, str | None], known: Collection[str]) -> str | None:
    """The nearest of those a mount was copied from that is ``known``; None where none is."""
    return next((each for each in lineage(id, origins) if each in known), None)
