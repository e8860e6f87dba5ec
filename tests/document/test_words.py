"""Characters that no eye sees: marked in what is read, so that nothing that goes out carries any."""

import io
import re

import ezdxf
import pytest
from pypdf import PdfReader

from app.analysis import Analysis
from app.document.models import Mount
from app.document.reading import read_mount
from app.document.words import MARK, marked
from app.export import EXPORTS
from tests.document.test_refusals import refused
from tests.mounts import extras, twin

UNSEEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")
"""Controls but tab and line ends (ISO 6429), embeddings and isolates (UAX 9), and two that are no characters."""

SOME = ("\x00", "\x07", "\x1b", "\x7f", "\x9b", "\u202e", "\u2066", "\uffff")


def spoilt(unseen: str) -> Mount:
    drawn = twin(title=f"Mount{unseen}", note=f"one{unseen}\n\ttwo", **extras())
    name = unseen if unseen > "\x7f" else ""
    return read_mount({**drawn, "members": [{**each, "id": f"{each['id']}{name}"} for each in drawn["members"]]})


@pytest.mark.parametrize("unseen", SOME)
def test_what_no_eye_sees_is_marked_in_title_and_note_and_lines_stay_lines(unseen: str) -> None:
    mount = spoilt(unseen)
    assert (mount.title, mount.note) == (f"Mount{MARK}", f"one{MARK}\n\ttwo")
    if unseen > "\x7f":
        assert mount.members[0].id == f"left{MARK}"


@pytest.mark.parametrize("unseen", [each for each in SOME if each <= "\x7f"])
def test_a_name_with_a_control_character_is_refused_in_words(unseen: str) -> None:
    drawn = twin()
    drawn["members"][0]["id"] = f"left{unseen}"
    [(place, sentence)] = refused(drawn)
    assert place == "members[0].id"
    assert "use no '/' and no control characters" in sentence


def test_a_title_of_several_lines_is_one_line() -> None:
    assert read_mount(twin(title="One\r\n\ttwo\x85three\u2028four")).title == "One two three four"


@pytest.mark.parametrize("name", list(EXPORTS))
@pytest.mark.parametrize("unseen", SOME)
def test_no_export_carries_what_no_eye_sees(name: str, unseen: str) -> None:
    mount, export = spoilt(unseen), EXPORTS[name]
    written = export.write(Analysis(mount, {}), False, **export.chosen(mount, {}))
    text = (
        "".join(page.extract_text() for page in PdfReader(io.BytesIO(written)).pages)
        if name == "pdf"
        else written.decode()
    )
    assert UNSEEN.findall(text) == []
    if name == "dxf":
        assert ezdxf.read(io.StringIO(text)).audit().errors == []  # type: ignore[attr-defined] # not re-exported


def test_what_goes_to_a_terminal_moves_no_cursor() -> None:
    assert marked("found \x1b[2J and \x9b2J\n") == f"found {MARK}[2J and {MARK}2J\n"
