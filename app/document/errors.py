"""What can be wrong with what a user hands in.

    SketcherError
    ├── BadDocument      a mount document that is refused, with every fault in it
    ├── BadCommand       a stroke command that names no cylinder or is no number
    ├── BadSettings      settings of a run that are refused, or a run the document lacks something for
    ├── NoSuchName       a joint, value or answer a script asks for that is not there
    ├── NotLocated       the worked pose of a mount that hangs loose or is bound
    ├── DoesNotFit       a drawing for which the paper has no room at the scale asked for
    ├── Unreadable       not JSON, or not there at all
    ├── TooLarge         a message over the limit
    ├── TooSlow          a request that does not come to its end
    ├── Unwritable       a file that cannot be written
    ├── Unforeseen       anything else that went wrong; the log says more under its reference number
    └── LibraryError     what goes wrong with the user's own mounts
        ├── NoLibrary         their file cannot be opened or written
        │   └── LibraryGone       it was there and has been taken away
        ├── VersionUnreadable a version whose text is damaged
        ├── NotInLibrary      there is no such mount or version
        ├── Deleted           a step for a mount that lies among the deleted ones
        ├── ChangedElsewhere  a step from a revision that is not the newest
        ├── KeptChanged       the same of a comparison or lesson
        └── KeyUsed           a step under the key of another one

Each keeps its facts and says one sentence per fault: what was found, what is expected, what to do.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from app.document.messages import Value, filled
from app.document.units import System


@dataclass(frozen=True)
class Fault:
    """One thing wrong: ``place`` in the document (``members[2].ends[0].on``) and a sentence with the remedy.

    ``values`` are what stands at the ``{name}`` places of the sentence, as in ``Message``; ``code`` names the kind.
    """

    place: str
    text: str
    values: Mapping[str, Value] = field(default_factory=dict)
    code: str = "refused"

    def filled(self, system: System = "metric") -> str:
        """The whole sentence in the units of a system."""
        return filled(self.text, self.values, system)

    def __str__(self) -> str:
        return f"{self.place}: {self.filled()}" if self.place else self.filled()


class SketcherError(Exception):
    """Base of every error a user can mend. ``code`` is stable, ``faults`` holds at least one."""

    code = "error"

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))

    def __reduce__(self) -> tuple[type["SketcherError"], tuple[list[Fault]]]:
        """How it comes from another process: made of its faults again."""
        return type(self), (self.faults,)


class BadDocument(SketcherError):
    """The mount document is refused; every fault found is listed, not the first only."""

    code = "bad-document"


class BadCommand(SketcherError):
    """The stroke command cannot be understood for this mount."""

    code = "bad-command"


class BadSettings(SketcherError):
    """The settings of a run are refused, or the document lacks what a run needs; every fault is listed."""

    code = "bad-settings"


class NoSuchName(SketcherError):
    """A script asks for what the mount or the answer does not have; those it has are said."""

    code = "no-such-name"


class Unreadable(SketcherError):
    """The text is not a JSON document that can be read."""

    code = "unreadable"


class NotLocated(SketcherError):
    """A loose or bound mount has no pose but the drawn one."""

    code = "not-located"


class DoesNotFit(SketcherError):
    """The paper has no room for the drawing at the scale asked for."""

    code = "does-not-fit"


class TooLarge(SketcherError):
    """The message is larger than the server takes."""

    code = "too-large"


class TooSlow(SketcherError):
    """The request had not come whole when the server's patience ended."""

    code = "too-slow"


class Unwritable(SketcherError):
    """The file cannot be written."""

    code = "unwritable"


class Unforeseen(SketcherError):
    """Something went wrong that nobody foresaw; the sentence carries the reference number of its entry in the log."""

    code = "unforeseen"


class LibraryError(SketcherError):
    """Base of what goes wrong with the user's own mounts."""


class NoLibrary(LibraryError):
    """The file the mounts are kept in cannot be opened, read or written."""

    code = "no-library"


class LibraryGone(NoLibrary):
    """The file was there and has been taken away; a new one is made only when it is asked for."""

    code = "library-gone"


class VersionUnreadable(LibraryError):
    """A version whose text in the file is damaged, or all versions of a mount."""

    code = "version-unreadable"


class NotInLibrary(LibraryError):
    """No mount of that id, or no version of that revision, is kept."""

    code = "not-found"


class Deleted(LibraryError):
    """The mount lies among the deleted ones and takes no steps."""

    code = "deleted"


class ChangedElsewhere(LibraryError):
    """The step was made from a revision that is no longer the newest; the newest is here."""

    code = "changed-elsewhere"

    def __init__(self, made_from: int, revision: int, mount: dict[str, Any], command: dict[str, float]) -> None:
        self.revision, self.mount, self.command = revision, mount, command
        found = f"the step was made from revision {made_from}, but revision {revision} is the newest"
        super().__init__([Fault("revision", f"{found}; look at that one and make the step again")])


class KeptChanged(LibraryError):
    """A change of a comparison or lesson was made from a revision that is no longer the newest."""

    code = "changed-elsewhere"

    def __init__(self, made_from: int, revision: int) -> None:
        found = f"the change was made from revision {made_from}, but revision {revision} is the newest"
        super().__init__([Fault("revision", f"{found}; open that one, or keep yours as another")])


class KeyUsed(LibraryError):
    """Another step was kept under the same key."""

    code = "key-used"
