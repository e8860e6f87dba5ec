"""The user's comparisons: a file each in a folder of the library."""

from pathlib import Path

from app.comparison.document import ComparisonDocument, as_comparison, read_comparison
from app.library.folder import Folder, Kind

COMPARISON: Kind[ComparisonDocument] = Kind("comparison", "comparisons", read_comparison, as_comparison)


def comparisons(library: Path) -> Folder[ComparisonDocument]:
    """Those of a data folder."""
    return Folder(library, COMPARISON)
