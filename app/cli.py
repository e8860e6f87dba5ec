"""The command line: serve the page, print a readout, write a drawing or a table, describe the document, list mounts."""

import argparse
import io
import logging
import os
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic_core import to_json

from app import __version__
from app.analysis import Analysis
from app.document.errors import BadCommand, Fault, SketcherError, Unwritable
from app.document.models import Mount
from app.document.reading import read_file, read_json
from app.document.typed import read_typed
from app.document.words import marked
from app.export import EXPORTS, Export
from app.export.files import write_whole
from app.incidents import Incidents
from app.library.store import Library, data_folder
from app.results.detail import detail
from app.results.readout import readout
from app.shipped import shipped_mounts
from app.strokes.over import STEPS

if TYPE_CHECKING:
    from app.web.keys import Keys

Answering = Callable[[Mount, Mapping[str, object]], object]
ANSWERS: dict[str, tuple[Answering, str]] = {
    "readout": (readout, "print the readout of a mount document as JSON"),
    "detail": (detail, "print true worst, spread, what to change first and allowed wear as JSON"),
}
"""What is printed as JSON: the function, and its words in the help."""

LIBRARY_TASKS = {
    "backup": ("FILE", "copy your mounts to a file, whatever is being written meanwhile"),
    "restore": ("FILE", "put such a copy in the place of your mounts; what was there is kept among the backups"),
    "export": ("FOLDER", "write each of your mounts as a JSON document"),
    "import": ("FOLDER", "keep every mount document of a folder that is not there yet"),
}
"""What can be done with the library: what it takes, and its words in the help."""

EVERYWHERE = ("0.0.0.0", "::")  # noqa: S104 - names what it is asked for
PORT = 8420
PORTS_TRIED = 50

BAD_INPUT = 2
UNFORESEEN = 70
"""What shells expect of an error in the program itself (EX_SOFTWARE of BSD's sysexits.h)."""
NOBODY_READS = 141
"""What a shell reports of a program whose reader went away: 128 and the number of SIGPIPE."""


def main(arguments: list[str] | None = None) -> int:
    """Run the command line. Returns 0, 2 for what is refused, 70 for what nobody foresaw and is in the log."""
    chosen = _parser().parse_args(arguments)
    try:
        if chosen.task in ANSWERS:
            return _print_answer(ANSWERS[chosen.task][0], chosen.file, chosen.command)
        if chosen.task == "scenarios":
            return _list_scenarios()
        if chosen.task == "document":
            return _describe_document()
        if chosen.task == "library":
            return _library(chosen)
        if chosen.task == "travel":
            return _travel(chosen)
        if chosen.task == "run":
            return _run(chosen)
        if export := _export_tasks().get(chosen.task or ""):
            return _export(export, chosen)
        return _serve(chosen.host, chosen.port, chosen.open, chosen.data)
    except SketcherError as error:
        print(marked(str(error)), file=sys.stderr)
        return BAD_INPUT
    except BrokenPipeError:
        # What is left in the buffer would be tried again when Python ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return NOBODY_READS
    except Exception as error:
        print(Incidents(data_folder(chosen.data)).keep(error, chosen.task or "serve"), file=sys.stderr)
        return UNFORESEEN


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="blade-mount",
        description="Sketch a blade mount and see its coupling, edge error and loads. Without a task: open the page.",
    )
    parser.add_argument("--version", action="version", version=__version__)
    parser.add_argument(
        "--host", default="127.0.0.1", help="address to serve on (default %(default)s, this machine only)"
    )
    parser.add_argument("--port", type=_port, default=PORT, help="port, or the next free one (default %(default)s)")
    parser.add_argument("--no-open", dest="open", action="store_false", help="do not open the browser")
    parser.add_argument(
        "--data",
        type=Path,
        metavar="FOLDER",
        help="keep your own mounts in this folder (default: BLADE_MOUNT_DATA, or yours)",
    )
    tasks = parser.add_subparsers(dest="task", metavar="task")
    for task, (_, words) in ANSWERS.items():
        _takes_mount(tasks.add_parser(task, help=words))
    over = tasks.add_parser("travel", help="print a mount over the strokes of its cylinders as JSON, or write a table")
    _takes_mount(over)
    over.add_argument(
        "--cylinders", nargs="+", metavar="ID", help="the one or two to be worked (default: the first two)"
    )
    over.add_argument("--steps", type=int, default=STEPS, help="how many strokes of each (default %(default)s)")
    over.add_argument("--csv", type=Path, metavar="OUT", help="write a table instead; a file that is there is replaced")
    ground = tasks.add_parser("run", help="drive a mount over ground with receivers and valves; print it as JSON")
    ground.add_argument("file", type=Path, help="mount document, a JSON file")
    ground.add_argument("--run", type=Path, metavar="SETTINGS", help="settings of the run, a JSON file (default: none)")
    ground.add_argument(
        "--csv", type=Path, metavar="OUT", help="write a table instead; a file that is there is replaced"
    )
    for task, each in _export_tasks().items():
        export = tasks.add_parser(task, help=f"write {each.words}")
        _takes_mount(export)
        export.add_argument("out", type=Path, help="file to write; one that is there is replaced")
        if each.has_poses:
            export.add_argument(
                "--pose",
                choices=("drawn", "worked"),
                default="drawn",
                help="as drawn, or where its cylinders are worked to (default %(default)s)",
            )
        for option in each.options:
            export.add_argument(f"--{option.flag}", dest=option.key, choices=option.choices, help=option.words)
    what = tasks.add_parser("library", help="back up, restore, export or import your own mounts")
    doing = what.add_subparsers(dest="doing", metavar="doing", required=True)
    for name, (place, words) in LIBRARY_TASKS.items():
        doing.add_parser(name, help=words).add_argument("place", type=Path, metavar=place, help=words)
    tasks.add_parser("document", help="describe every field of a mount document, as Markdown")
    tasks.add_parser("scenarios", help="list the mounts that ship with the tool")
    return parser


def _export_tasks() -> dict[str, Export]:
    """Every format by its task."""
    return {f"export-{each.name}": each for each in EXPORTS.values()}


def _takes_mount(task: argparse.ArgumentParser) -> None:
    task.add_argument("file", type=Path, help="mount document, a JSON file")
    task.add_argument(
        "--command",
        nargs="+",
        action="extend",
        default=[],
        metavar="ID=LENGTH",
        help="a cylinder and how much longer (+) or shorter (-) than drawn, in mm or with its unit: "
        "lift=12.5, lift=-1/2in; may be given more than once",
    )


def _port(text: str) -> int:
    if not text.isdecimal() or not 0 < int(text) < 65536:
        raise argparse.ArgumentTypeError(f"'{text}' is no port; give a number from 1 to 65535")
    return int(text)


def _print_answer(answering: Answering, file: Path, assignments: list[str]) -> int:
    answer = answering(read_file(file), parse_strokes(assignments))
    print(to_json(answer, indent=1, inf_nan_mode="null").decode(), flush=True)
    return 0


def _export(export: Export, chosen: argparse.Namespace) -> int:
    mount, strokes = read_file(chosen.file), parse_strokes(chosen.command)
    if _is_same(chosen.out, chosen.file):
        raise Unwritable([Fault(str(chosen.out), "is the document itself; give another file to write")])
    worked = export.has_poses and chosen.pose == "worked"
    choices = export.chosen(mount, vars(chosen))
    write_whole(chosen.out, export.write(Analysis(mount, strokes), worked, **choices))
    return 0


def _travel(chosen: argparse.Namespace) -> int:
    from app.strokes.answer import travelled
    from app.strokes.over import travel
    from app.strokes.table import table

    over = travel(read_file(chosen.file), parse_strokes(chosen.command), chosen.cylinders, chosen.steps)
    if chosen.csv is None:
        print(to_json(travelled(over)).decode(), flush=True)
        return 0
    if _is_same(chosen.csv, chosen.file):
        raise Unwritable([Fault(str(chosen.csv), "is the document itself; give another file to write")])
    write_whole(chosen.csv, table(over, over.mount.display or "metric").encode())
    return 0


def _run(chosen: argparse.Namespace) -> int:
    from app.grading.answer import ran
    from app.grading.grade import run
    from app.grading.table import table

    made = run(read_file(chosen.file), read_json(chosen.run) if chosen.run else None)
    if chosen.csv is None:
        print(to_json(ran(made)).decode(), flush=True)
        return 0
    if _is_same(chosen.csv, chosen.file) or (chosen.run and _is_same(chosen.csv, chosen.run)):
        raise Unwritable([Fault(str(chosen.csv), "is one of the files that are read; give another file to write")])
    write_whole(chosen.csv, table(made, made.mount.display or "metric").encode())
    return 0


def _is_same(one: Path, other: Path) -> bool:
    """Whether two paths lead to one file, by whatever links or in whatever case."""
    try:
        return one.samefile(other)
    except OSError:
        return False


def parse_strokes(assignments: list[str]) -> dict[str, object]:
    """Read ``ID=LENGTH`` pairs, a bare length in mm. Raises BadCommand with every pair that is none."""
    strokes: dict[str, object] = {}
    faults = []
    for text in assignments:
        name, _, length = text.rpartition("=")
        move = read_typed(length, "fine") if name else None
        if move is None:
            remedy = "write for example --command 'left cylinder=25' for 25 mm, or 'left cylinder=1/2in'"
            faults.append(Fault(f"--command {text}", f"is no ID=LENGTH; {remedy}"))
        else:
            strokes[name.strip()] = move
    if faults:
        raise BadCommand(faults)
    return strokes


def _list_scenarios() -> int:
    for name, mount in shipped_mounts().items():
        print(f"{name:28}{mount.title}")
    return 0


def _library(chosen: argparse.Namespace) -> int:
    from app.library.backups import back_up_as_it_is, bring_back, check_copy, copy_to
    from app.library.exchange import export_to, import_from

    folder, place = data_folder(chosen.data), chosen.place
    library = Library(folder)
    refused: list[str] = []
    try:
        if chosen.doing == "backup":
            copy_to(library.path, place)
            print(f"Your mounts are copied to {place}.")
        elif chosen.doing == "restore":
            check_copy(place)
            if library.path.is_file():
                print(f"What was there is kept as {back_up_as_it_is(library.path)}.")
            bring_back(place, library.path)
            library.open()
            print(f"Your mounts are those of {place} again.")
        elif chosen.doing == "export":
            written, refused = export_to(library, place)
            print(f"{len(written)} mounts are written to {place}; deleted ones are not.")
        else:
            new, known, refused = import_from(library, place)
            print(f"{new} mounts are new in {library.path}; {known} were there already.")
    finally:
        library.close()
    for line in [*library.said, *refused]:
        print(line, file=sys.stderr)
    return BAD_INPUT if refused else 0


def _describe_document() -> int:
    from app.guides.document import markdown

    print(markdown(), end="", flush=True)
    return 0


def _serve(host: str, port: int, open_browser: bool, data: Path | None) -> int:
    from app.web.ask import WRITER
    from app.web.guard import is_loopback
    from app.web.keys import keys_of, own_address
    from app.web.server import create_app
    from app.web.serving import server_of

    library = Library(data_folder(data))
    library.open()
    for sentence in library.said:
        print(sentence, file=sys.stderr, flush=True)
    listening = _listen(host, port)
    taken = listening.getsockname()[1]
    if taken != port:
        print(f"Port {port} is taken; using {taken}.")
    keys = None if is_loopback(host) else keys_of(library.path.parent)
    address = _address(host, taken)
    if keys:
        address = _say_who_may(keys, own_address() or host if host in EVERYWHERE else host, taken)
    else:
        print(f"Blade Mount Sketcher is at {address}  (Ctrl+C stops it)", flush=True)
    if open_browser:
        timer = threading.Timer(0.7, webbrowser.open, [address])
        timer.daemon = True
        timer.start()
    app = create_app(host=host, library=library, keys=keys)
    server = server_of(app)
    WRITER.start()
    for name in ("uvicorn.error", "asyncio"):
        logging.getLogger(name).addHandler(app.state.incidents.file)
    try:
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        pass
    finally:
        listening.close()
        WRITER.close()
    return 0


def _address(host: str, port: int) -> str:
    return f"http://{f'[{host}]' if ':' in host else host}:{port}/"


def _say_who_may(keys: "Keys", host: str, port: int) -> str:
    """Print the addresses with their keys and what they open: the one of the user's own browser."""
    import segno

    change, watch = f"{_address(host, port)}?key={keys.change}", f"{_address(host, port)}watch?key={keys.watch}"
    print(f"Blade Mount Sketcher is at {change}  (Ctrl+C stops it)")
    print(f"To step the wall from a phone of your own: {_address(host, port)}watch?key={keys.change}")
    print(f"To watch only: {watch}")
    drawn = io.StringIO()
    segno.make(watch).terminal(out=drawn, compact=True)
    with suppress(UnicodeEncodeError):  # a terminal that has no blocks gets the address alone
        print(drawn.getvalue())
    print(
        "Open to the network: whoever has the first address may change and delete your mounts, whoever has the second "
        "may watch your sheet; nothing is encrypted, so use it on a network you trust.",
        flush=True,
    )
    return change


def _listen(host: str, port: int) -> socket.socket:
    """A socket on the port asked for, or on the next free one. Raises BadCommand when there is none."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    reason = ""
    for candidate in range(port, min(port + PORTS_TRIED, 65536)):
        opened = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)  # named, or asyncio leaves Nagle on
        if sys.platform != "win32":
            opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            opened.bind((host, candidate))
            opened.listen(128)
        except OSError as error:
            opened.close()
            reason = error.strerror or str(error)
            if not isinstance(error, socket.gaierror) and _is_taken(error):
                continue
            raise BadCommand([Fault(f"--host {host} --port {candidate}", f"cannot be served on ({reason})")]) from None
        return opened
    raise BadCommand([Fault(f"--port {port}", f"no free port among the next {PORTS_TRIED} ({reason}); give another")])


def _is_taken(error: OSError) -> bool:
    import errno

    return error.errno in (errno.EADDRINUSE, errno.EACCES)
