"""Words that people type: what no eye sees, and no drawing, table or terminal bears, is shown as a mark.

Names with such characters below the space are refused; elsewhere they are marked as they are read, so that a mount kept
with one stays readable.
"""

import re

from pydantic import BeforeValidator

MARK = "\ufffd"

_UNSEEN = "\x80-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff"
"""Controls after ASCII, what turns the reading direction of all that follows, and what is no character at all."""

_UNSEEN_IN_NAME = re.compile(f"[{_UNSEEN}]")
_UNSEEN_IN_TEXT = re.compile(f"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f{_UNSEEN}]")
_LINE_ENDS = re.compile("[\t-\r\x85\u2028\u2029]+")


def marked(words: str) -> str:
    """Text of several lines with a mark for every character that is none to look at."""
    return _UNSEEN_IN_TEXT.sub(MARK, words)


def _line(found: object) -> object:
    return marked(_LINE_ENDS.sub(" ", found)) if isinstance(found, str) else found


def _lines(found: object) -> object:
    return marked(found) if isinstance(found, str) else found


def _name(found: object) -> object:
    return _UNSEEN_IN_NAME.sub(MARK, found) if isinstance(found, str) else found


LINE, LINES, NAME = BeforeValidator(_line), BeforeValidator(_lines), BeforeValidator(_name)
"""How a title, a note and a name are read."""
