"""What goes out for other programs. A new format is a file here and a line in ``EXPORTS``.

The command line (``export-NAME``) and the server (``POST /export/NAME``) offer what stands in this list.
"""

from collections.abc import Callable
from dataclasses import dataclass

from app.analysis import Analysis


@dataclass(frozen=True)
class Export:
    """A format: its name, what it is, its media type, how it is written, and whether it knows a worked pose.

    ``write`` takes an analysis and whether the worked pose is wanted. Loading what a format needs is left to the first
    time it is written.
    """

    name: str
    words: str
    media_type: str
    write: Callable[[Analysis, bool], bytes]
    has_poses: bool = False


def _dxf(analysis: Analysis, worked: bool) -> bytes:
    from app.export.dxf import dxf_bytes  # takes a third of a second to load, and most sessions draw none

    return dxf_bytes(analysis, worked)


def _csv(analysis: Analysis, worked: bool) -> bytes:
    from app.export.csv import csv_bytes

    return csv_bytes(analysis)


EXPORTS: dict[str, Export] = {
    each.name: each
    for each in (
        Export("dxf", "the mount as a DXF drawing in millimetres", "image/vnd.dxf", _dxf, has_poses=True),
        Export("csv", "readout, budget and forces as a table", "text/csv; charset=utf-8", _csv),
    )
}
"""Every format by its name, which is also the ending of its files."""
