"""What nobody foresaw: one sentence with a reference number for the user, the whole story in a log under that number.

The log lies in the data folder, ``log/blade-mount.txt`` and the ones before it; it holds where the program went wrong,
no mount documents, and may be sent to whoever mends the tool.
"""

import logging
import platform
import secrets
import sys
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path

from app import __version__
from app.document.errors import Fault, Unforeseen
from app.document.messages import word

LOG = Path("log") / "blade-mount.txt"
LARGEST_BYTES = 500_000
EARLIER_KEPT = 4
_LONGEST_STORY = 20_000

_TRY_AGAIN = "something went wrong here that nobody foresaw (reference {reference}); try again"
_IN_LOG = f"{_TRY_AGAIN}, and if it comes back send the file {{log}} to whoever looks after this tool"
_NO_LOG = f"{_TRY_AGAIN}; the log {{log}} cannot be written, so what is known stands where the server was started"


class Incidents:
    """The log of one data folder. Folder and file are made when there is something to write."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / LOG
        self.file = _Rotating(self.path)

    def keep(self, error: BaseException, doing: str) -> Unforeseen:
        """Write an exception into the log, with what was being done: what to tell the user, with its reference."""
        reference = secrets.token_hex(4)
        head = f"reference {reference}, {doing[:200]!r}, version {__version__}, {platform.platform()}"
        story = logging.Formatter().formatException((type(error), error, error.__traceback__))
        written = self.file.wrote(f"{head}\n{story[-_LONGEST_STORY:]}")
        values = {"reference": word(reference), "log": word(str(self.path))}
        return Unforeseen([Fault("", _IN_LOG if written else _NO_LOG, values)])


class _Rotating(RotatingFileHandler):
    """A log file that makes its folder, and says on standard error what it cannot write."""

    def __init__(self, path: Path) -> None:
        super().__init__(
            path, maxBytes=LARGEST_BYTES, backupCount=EARLIER_KEPT, encoding="utf-8", errors="replace", delay=True
        )
        self.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
        self._failed = False

    def wrote(self, text: str) -> bool:
        """Write an entry: whether it is in the file."""
        with self.lock or logging._lock:  # type: ignore[attr-defined] # a handler has always one of its own
            self._failed = False
            self.handle(logging.LogRecord("blade-mount", logging.ERROR, "", 0, text, (), None))
            return not self._failed

    def emit(self, record: logging.LogRecord) -> None:
        """Write an entry and let go of the file: entries are rare, and folders get moved."""
        super().emit(record)
        if self.stream:
            self.stream.close()
            self.stream = None  # as of a handler that has not opened its file yet

    def handleError(self, record: logging.LogRecord) -> None:
        """The disk is full or the folder gone: the terminal gets the entry."""
        self._failed = True
        print(self.format(record), file=sys.stderr, flush=True)

    def _open(self) -> TextIOWrapper:
        Path(self.baseFilename).parent.mkdir(parents=True, exist_ok=True)
        return super()._open()
