"""What goes out for other programs. A new format is a file here and a line in ``EXPORTS``.

The command line (``export-NAME``) and the server (``POST /export/NAME``) offer what stands in this list.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from app.analysis import Analysis
from app.document.errors import BadDocument, Fault
from app.document.models import Mount
from app.document.units import SYSTEMS, System
from app.export.papers import FITS, PAPERS, SCALE_CHOICES


@dataclass(frozen=True)
class Option:
    """What the reader chooses of a format: its key in a question, its word at the command line, and the choices.

    ``otherwise`` says which of them holds for a mount when none is named.
    """

    key: str
    flag: str
    words: str
    choices: tuple[str, ...]
    otherwise: Callable[[Mount], str]


@dataclass(frozen=True)
class Export:
    """A format: its name, what it is, its media type, how it is written, and whether it knows a worked pose.

    ``words`` say what it is in a sentence about the mount, ``brief`` beside its name on the page.

    ``write`` takes an analysis, whether the worked pose is wanted, and the choice of each option by its key. Loading
    what a format needs is left to the first time it is written.
    """

    name: str
    words: str
    brief: str
    media_type: str
    write: Callable[..., bytes]
    has_poses: bool = False
    options: tuple[Option, ...] = ()

    def ending(self, worked: bool) -> str:
        """How its files end: a drawing's says which pose it shows."""
        pose = "-worked" if worked else "-drawn"
        return f"{pose if self.has_poses else ''}.{self.name}"

    def chosen(self, mount: Mount, given: Mapping[str, object]) -> dict[str, str]:
        """The choice of every option, by its key. Raises BadDocument for what is no choice."""
        wrong = self.faults(given)
        if wrong:
            raise BadDocument(wrong)
        return {each.key: str(given.get(each.key) or each.otherwise(mount)) for each in self.options}

    def faults(self, given: Mapping[str, object]) -> list[Fault]:
        """What is wrong with what was chosen; None leaves the choice open."""
        return [
            Fault(each.key, f"is none of the choices; give one of {', '.join(each.choices)}")
            for each in self.options
            if given.get(each.key) is not None and given[each.key] not in each.choices
        ]


def _display(mount: Mount) -> System:
    return mount.display or "metric"


UNITS = Option("system", "units", "units of lengths and all else; those of the document if left out", SYSTEMS, _display)


PAPER = Option("paper", "paper", "size of the sheet; A4 or Letter if left out", tuple(PAPERS), lambda _: "")
SCALE = Option("scale", "scale", "scale on paper; the largest that fits if left out", SCALE_CHOICES, lambda _: FITS)


def _dxf(analysis: Analysis, worked: bool, system: System) -> bytes:
    from app.export.dxf import dxf_bytes  # takes a third of a second to load, and most sessions draw none

    return dxf_bytes(analysis, worked, system)


def _pdf(analysis: Analysis, worked: bool, system: System, paper: str, scale: str) -> bytes:
    from app.export.pdf import pdf_bytes  # a third of a second too

    return pdf_bytes(analysis, worked, system, paper, scale)


def _csv(analysis: Analysis, worked: bool, system: System) -> bytes:
    from app.export.csv import csv_bytes

    return csv_bytes(analysis, system)


EXPORTS: dict[str, Export] = {
    each.name: each
    for each in (
        Export(
            "dxf",
            "the mount as a DXF drawing, full size",
            "full size, layers by kind of line, for a drawing program",
            "image/vnd.dxf",
            _dxf,
            True,
            (UNITS,),
        ),
        Export(
            "pdf",
            "the mount to scale on one sheet, as PDF",
            "one sheet, true to scale:",
            "application/pdf",
            _pdf,
            True,
            (UNITS, PAPER, SCALE),
        ),
        Export(
            "csv",
            "readout, budget and forces as a table",
            "readout, budget and forces, for a spreadsheet; as worked",
            "text/csv; charset=utf-8",
            _csv,
            False,
            (UNITS,),
        ),
    )
}
"""Every format by its name, which is also the ending of its files."""
