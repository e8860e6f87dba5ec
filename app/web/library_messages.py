"""What asks for a mount to be kept, read part by part so that every fault is said at once."""

import re
from dataclasses import dataclass
from typing import Any

from app.document.errors import BadDocument, Fault, NotInLibrary
from app.document.models import Mount
from app.shipped import shipped_mounts
from app.solve.pose import moves_of
from app.web.ask import read_question

ID = re.compile(r"[0-9a-f]{32}")
KEY = re.compile(r"[A-Za-z0-9_.:-]{1,64}")


@dataclass(frozen=True)
class Asked:
    """What a message asks to be kept."""

    mount: Mount
    command: dict[str, object]
    revision: int = 0
    origin: str | None = None
    key: str | None = None


def read_new(message: object) -> Asked:
    """A new mount to keep. Raises BadDocument with every fault, BadCommand."""
    mount, command, faults = _read_parts(message, ("origin", "key"))
    origin = message.get("origin") if isinstance(message, dict) else None
    is_known = origin is None or (isinstance(origin, str) and (origin in shipped_mounts() or ID.fullmatch(origin)))
    if not is_known:
        faults.append(Fault("origin", "is neither a shipped mount's name nor a kept mount's id; leave it out"))
    return _checked(message, mount, command, faults, origin=origin)


def read_step(message: object) -> Asked:
    """An edit step to keep. Raises BadDocument with every fault, BadCommand."""
    mount, command, faults = _read_parts(message, ("revision", "key"))
    revision = message.get("revision") if isinstance(message, dict) else None
    if isinstance(message, dict) and (isinstance(revision, bool) or not isinstance(revision, int) or revision < 1):
        faults.append(Fault("revision", "is missing or no whole number from 1; give the one the step was made from"))
    return _checked(message, mount, command, faults, revision=revision)


def _read_parts(message: object, extra: tuple[str, ...]) -> tuple[Mount | None, dict[str, object], list[Fault]]:
    try:
        return *read_question(message, extra), []
    except BadDocument as error:
        return None, {}, error.faults


def _checked(message: Any, mount: Mount | None, command: dict[str, object], faults: list[Fault], **more: Any) -> Asked:  # noqa: ANN401
    """All of a message, once every part is sound. Raises BadDocument with every fault, BadCommand."""
    key = message.get("key") if isinstance(message, dict) else None
    if not (key is None or (isinstance(key, str) and KEY.fullmatch(key))):
        faults.append(Fault("key", "is no key; give 1 to 64 letters, digits and _ . : -"))
    if faults or mount is None:
        raise BadDocument(faults)
    moves_of(mount, command)
    return Asked(mount, command, key=key, **more)


def known(id: str) -> str:
    """An id that can be one. Raises NotInLibrary."""
    if not ID.fullmatch(id):
        raise NotInLibrary([Fault("", "is no id of a kept mount; GET /library lists them")])
    return id
