"""What can be wrong with what a user hands in.

    SketcherError
    ├── BadDocument      a mount document that is refused, with every fault in it
    ├── BadCommand       a stroke command that names no cylinder or is no number
    └── Unreadable       not JSON, too large, or not there at all

Each keeps its facts and says one sentence per fault: what was found, what is expected, what to do.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One thing wrong: ``place`` in the document (``members[2].ends[0].on``) and a sentence with the remedy."""

    place: str
    message: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message}" if self.place else self.message


class SketcherError(Exception):
    """Base of every error a user can mend. ``code`` is stable, ``faults`` holds at least one."""

    code = "error"

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class BadDocument(SketcherError):
    """The mount document is refused; every fault found is listed, not the first only."""

    code = "bad-document"


class BadCommand(SketcherError):
    """The stroke command cannot be understood for this mount."""

    code = "bad-command"


class Unreadable(SketcherError):
    """The text is not a JSON document that can be read."""

    code = "unreadable"
