"""Which mounts are variants of one another: those copied from one mount, or from its copies.

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


def family_of(id: str, origins: Mapping[str, str | None]) -> str:
    """The mount that a mount and its variants all come from: a kept id, a shipped mount's name, or ``id`` itself.

    ``origins`` says of every kept id, deleted or not, what it was copied from.
    """
    return [id, *lineage(id, origins)][-1]


def parent_among(id: str, origins: Mapping[str, str | None], known: Collection[str]) -> str | None:
    """The nearest of those a mount was copied from that is ``known``; None where none is."""
    return next((each for each in lineage(id, origins) if each in known), None)
