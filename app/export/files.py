"""Files that are written: what they are called, and that they are there whole or not at all."""

import os
import re
import secrets
import unicodedata
from pathlib import Path

from app.document.errors import Fault, Unwritable

_LONGEST_NAME = 60
_DEVICES = re.compile(r"(con|prn|aux|nul|com[\d¹²³]|lpt[\d¹²³])", re.IGNORECASE)
"""Names Windows keeps for devices, whatever the ending."""


def file_name(title: str, ending: str) -> str:
    """A name for a file made from a title: letters, digits and hyphens only, never empty, never a device's."""
    words = re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", title)).strip("-")[:_LONGEST_NAME].strip("-")
    if not words or _DEVICES.fullmatch(words):
        words = f"mount-{words}".strip("-")
    return words + ending


def write_whole(path: Path, content: bytes, private: bool = False) -> None:
    """Write a file so that it is there whole or not at all; a private one for its owner only. Raises Unwritable."""
    whole = path.resolve()
    aside = whole.parent / f".{secrets.token_hex(8)}.part"
    try:
        if whole.exists() and not whole.is_file():
            raise OSError("is no plain file")  # a folder, or a device or pipe that must not be replaced
        try:
            with aside.open("xb") as file:
                if private:
                    aside.chmod(0o600)
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            aside.replace(whole)
        finally:
            aside.unlink(missing_ok=True)
    except OSError as error:
        reason = error.strerror or str(error)
        raise Unwritable([Fault(str(path), f"cannot be written ({reason}); give another place")]) from None
