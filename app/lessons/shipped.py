"""The lessons that ship with the tool."""

from functools import lru_cache

from app.document.reading import read_json
from app.lessons.document import Lesson, read_lesson
from app.shipped import folder


@lru_cache(maxsize=1)
def shipped_lessons() -> dict[str, Lesson]:
    """The shipped lessons by file name without its ending, in order. Raises BadDocument if one is spoilt."""
    files = sorted((folder("scenarios") / "lessons").glob("*.json"))
    return {path.stem: read_lesson(read_json(path, "a lesson")) for path in files}
