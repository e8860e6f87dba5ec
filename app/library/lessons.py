"""The lessons a trainer has written: a file each in a folder of the library."""

from pathlib import Path

from app.lessons.document import Lesson, as_lesson, read_lesson
from app.library.folder import Folder, Kind

LESSON: Kind[Lesson] = Kind("lesson", "lessons", read_lesson, as_lesson)


def lessons(library: Path) -> Folder[Lesson]:
    """Those of a data folder."""
    return Folder(library, LESSON)
