"""What lies beside the code: the page's files and the mounts that ship with the tool."""

import sys
from functools import lru_cache
from pathlib import Path

from app.document.models import Mount
from app.document.reading import read_file


def folder(name: str) -> Path:
    """A folder of the project: inside the package once installed, beside it in a checkout."""
    package = Path(__file__).resolve().parent
    inside = package / name
    return inside if inside.is_dir() else package.parent / name


@lru_cache(maxsize=1)
def shipped_mounts() -> dict[str, Mount]:
    """The shipped mounts by file name without its ending, by its number. Raises BadDocument if one is spoilt."""
    return {path.stem: read_file(path) for path in sorted(folder("scenarios").glob("*.json"), key=_place)}


def _place(path: Path) -> tuple[int, str]:
    """A file's place among the shipped: that of the number it begins with; those without one come last."""
    number = path.stem.split("-")[0]
    return (int(number) if number.isdecimal() else sys.maxsize), path.stem
