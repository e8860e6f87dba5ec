"""The page on the mount document says every field of every model, and says it as the models do."""

import pytest

from app.cli import main
from app.document.errors import BadDocument
from app.document.models import Mount
from app.document.parts import Part
from app.document.reading import read_mount
from app.guides.document import PARTS, FieldWords, markdown
from app.vocabulary import vocabulary
from tests.mounts import twin
from tests.web.client import client


def models(part: type[Part] = Part) -> list[type[Part]]:
    """Every model a document is read into: those no other is made from."""
    below = part.__subclasses__()
    return [model for each in below for model in models(each)] if below else [part]


FIELDS = [(model, key) for model in models() for key in model.model_fields]


def told(model: str, key: str) -> FieldWords:
    [part] = [part for part in PARTS if part.model == model]
    [field] = [field for field in part.fields if field.key == key]
    return field


@pytest.mark.parametrize(("model", "key"), FIELDS, ids=lambda each: getattr(each, "__name__", each))
def test_every_field_of_every_model_is_told_with_its_meaning_and_its_unit(model: type[Part], key: str) -> None:
    field, words = model.model_fields[key], told(model.__name__, key)
    assert words.meaning
    assert words.takes
    assert ", ".join(each for each in (words.meaning, words.unit) if each) == field.description
    assert (words.default == "required") == field.is_required()


def test_nothing_is_told_that_no_model_has() -> None:
    assert {(part.model, field.key) for part in PARTS for field in part.fields} == {
        (model.__name__, key) for model, key in FIELDS
    }
    assert PARTS[0].model == Mount.__name__


def test_a_label_is_the_one_on_the_page() -> None:
    for kind in vocabulary().members:
        for field in kind.fields:
            assert told(kind.kind.capitalize(), field.key).label == field.label


def test_places_say_where_a_part_stands_in_the_document() -> None:
    assert {part.model: part.place for part in PARTS if part.model in ("Oil", "End", "Slide", "Allowance")} == {
        "Oil": "oil",
        "End": "members[ ].ends[ ]",
        "Slide": 'members[ ], "slide"',
        "Allowance": "allowances[ ]",
    }


def test_limits_and_what_may_be_left_out_are_told_as_they_are_read() -> None:
    tolerance = told("Mount", "tolerance")
    assert (tolerance.takes, tolerance.unit) == ("number, 0.001 to 100\N{NO-BREAK SPACE}000", "mm")
    assert tolerance.default == "none"
    assert read_mount(twin(tolerance=100_000)).tolerance == 100_000
    with pytest.raises(BadDocument):
        read_mount(twin(tolerance=100_001))
    assert told("Cylinder", "hose_volume").default == "0"
    assert told("Allowance", "at").takes == '"ends" or "sensors"'
    assert told("Mount", "members").takes == "[ ] of up to 60: object { }"


def test_the_command_line_prints_every_part_and_field_as_a_table(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["document"]) == 0
    printed = capsys.readouterr().out
    assert printed == markdown()
    for part in PARTS:
        table = printed.split(f"\n## {part.head}\n")[1].split("\n## ")[0]
        assert [row.split("`")[1] for row in table.splitlines() if row.startswith("| `")] == [
            field.key for field in part.fields
        ]
        assert all(row.count("|") == 7 for row in table.splitlines() if row.startswith("|"))


def test_the_page_shows_every_meaning() -> None:
    page = client().get("/guide/document").text.replace("&#39;", "'").replace("&#34;", '"')
    assert [field.meaning for part in PARTS for field in part.fields if f"<td>{field.meaning}</td>" not in page] == []
    assert page.count("<section ") == len(PARTS)
