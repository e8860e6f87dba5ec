"""Every sentence a user may read: in templates, guides, shipped mounts and lessons, and in the page's own words."""

import re
from collections.abc import Iterator
from pathlib import Path

from app import guides
from app.lessons.shipped import shipped_lessons
from app.shipped import shipped_mounts

ROOT = Path(__file__).parents[1]
_COMMENT = re.compile(r"/\*.*?\*/|^\s*//.*?$|\s//\s.*?$", re.S | re.M)
_STRING = re.compile(r"\"((?:[^\"\\\n]|\\.)*)\"|`((?:[^`\\]|\\.)*)`")
_TAG = re.compile(r"<script.*?</script>|<style.*?</style>|{[%{#].*?[%}#]}", re.S)
_SAID = re.compile(r">([^<>]+)<|(?:title|aria-label|placeholder)=\"([^\"]+)\"")
_VALUE = re.compile(r"\$\{[^{}]*\}")


def words_shown() -> Iterator[tuple[str, str]]:
    """Where it stands, and the sentence; values filled in later stand as dots."""
    for name, mount in shipped_mounts().items():
        yield f"scenarios/{name}", f"{mount.title}. {mount.note}"
    for name, lesson in shipped_lessons().items():
        yield f"lessons/{name}", " ".join((lesson.title, lesson.note, *(step.say for step in lesson.steps)))
    for guide in guides.ALL:
        for step in guide.steps:
            yield f"guide/{guide.name}", f"{step.head} {step.words} {step.link_words}"
    for path in sorted((ROOT / "templates").glob("*.html")):
        for found in _SAID.finditer(_TAG.sub("", path.read_text())):
            yield path.name, (found[1] or found[2]).strip()
    for path in sorted((ROOT / "static").rglob("*.js")):
        for found in _STRING.finditer(_COMMENT.sub("", path.read_text())):
            words = _VALUE.sub("…", found[1] if found[1] is not None else found[2])
            if " " in words.strip() and not words.startswith(("M", "#", ".", "[", "../", "./")):
                yield str(path.relative_to(ROOT)), words
