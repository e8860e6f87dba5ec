"""A process that writes equations for another: topologies come in over its standard input, texts go out.

SymPy holds the interpreter while it derives; in a process of its own it holds up nobody. It ends with its input, so
that it never outlives the one it writes for.
"""

import os
import pickle
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from threading import Event, Lock, Thread

from app.solve.equations import Equations, Topology, as_text, from_text

_READY = b"ready\n"
_PACKAGE = Path(__file__).resolve().parents[2]


class Writer:
    """The other end of such a process."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._turn = Lock()
        self.ready = Event()
        """Set once it has loaded what it needs."""

    def start(self) -> None:
        """Start it, without waiting for it."""
        # -P: a neighbour called app.py in the folder the user is in is not this package.
        command = [sys.executable, "-P", "-c", f"import sys; sys.path.insert(0, {str(_PACKAGE)!r}); {_MAIN}"]
        self._process = subprocess.Popen(  # noqa: S603 - this program's own words
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, start_new_session=True
        )
        Thread(target=self._greeted, args=(self._process,), daemon=True).start()

    def _greeted(self, process: "subprocess.Popen[bytes]") -> None:
        with suppress(OSError, EOFError, ValueError):
            if process.stdout is not None and process.stdout.readline() == _READY:
                self.ready.set()

    def write(self, topology: Topology) -> Equations:
        """The equations of a topology. Raises OSError or EOFError when the process is not there, or not yet."""
        process = self._process
        if not self.ready.is_set() or process is None or process.stdin is None or process.stdout is None:
            raise OSError("no process writes equations")
        with self._turn:
            pickle.dump(topology, process.stdin)
            process.stdin.flush()
            # Only what this program's own process wrote is read here.
            shape, sources = pickle.load(process.stdout)  # noqa: S301
        return from_text(shape, sources)

    def close(self) -> None:
        """End it."""
        process, self._process = self._process, None
        self.ready.clear()
        if process is None:
            return
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                # What was being written when it went cannot be flushed.
                with suppress(OSError):
                    pipe.close()


_MAIN = "from app.solve.writer import main; main()"


def main() -> None:
    """Write what is asked for until the input ends, or nobody reads any more."""
    try:
        _send(_READY)
        while True:
            # From the program that started this one.
            topology = pickle.load(sys.stdin.buffer)  # noqa: S301
            _send(pickle.dumps(as_text(topology)))
    except (EOFError, BrokenPipeError, KeyboardInterrupt):
        # What is still to be flushed has no reader, and saying so at the end would be said to a user's terminal.
        os._exit(0)


def _send(text: bytes) -> None:
    sys.stdout.buffer.write(text)
    sys.stdout.buffer.flush()
