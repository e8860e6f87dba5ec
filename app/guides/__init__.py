"""The short pages beside the sketch: what each user does with the tool, and the mount document field by field."""

from app.guides.document import PARTS
from app.guides.steps import GUIDES, Guide

ALL: tuple[Guide, ...] = (
    *GUIDES,
    Guide(
        "document",
        "Document",
        "For whoever writes or reads a mount document by hand or with a program: every field, as the tool reads it. "
        "A document is JSON; places are as drawn, seen from behind, x to the right and y up.",
        parts=PARTS,
    ),
)
"""Every page, in the order they are listed."""

__all__ = ["ALL", "Guide"]
