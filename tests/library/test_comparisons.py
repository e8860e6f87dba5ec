"""The user's comparisons in a folder of files."""

from pathlib import Path
from typing import Any

import pytest

from app.comparison.document import ComparisonDocument, as_comparison, read_comparison
from app.document.errors import BadDocument, KeptChanged, NotInLibrary, VersionUnreadable
from app.document.models import as_document
from app.library.comparisons import comparisons
from app.shipped import shipped_mounts

SHIPPED = shipped_mounts()


def two(**more: object) -> ComparisonDocument:
    return read_comparison({**plain(), **more})


def plain() -> dict[str, Any]:
    return {
        "name": "Arena north",
        "note": "Call back in May",
        "a": {"mount": as_document(SHIPPED["1-centre-pivot"]), "command": {"tilt cylinder": 3.5}},
        "b": {"mount": as_document(SHIPPED["3-twin-cylinders"]), "command": {}},
        "ends": {"left": -5, "right": 12.5},
        "end": "left",
        "rise": 15,
        "carry": {"mass": "stays", "sensors": "ends", "members": "width"},
        "worn": 0.8,
        "run": None,
        "works": {"a": None, "b": ["left cylinder", "right cylinder"]},
    }


def test_it_comes_back_as_it_was(tmp_path: Path) -> None:
    kept = comparisons(tmp_path).add(two())
    found = comparisons(tmp_path).kept(kept.id)
    assert found == kept
    assert as_comparison(found.document) == {"format": 1, **plain()}


def test_one_that_was_kept_before_there_were_such_choices_opens_with_the_usual_ones() -> None:
    older = {name: value for name, value in plain().items() if name not in ("carry", "worn", "run", "works")}
    found = as_comparison(read_comparison(older))
    assert found["carry"] == {"mass": "metre", "sensors": "ends", "members": "stay"}
    assert (found["worn"], found["run"], found["works"]) == (1.0, None, {"a": None, "b": None})


def test_the_newest_change_is_listed_first(tmp_path: Path) -> None:
    kept = comparisons(tmp_path)
    first, _ = kept.add(two(name="First")), kept.add(two(name="Second"))
    kept.change(first.id, 1, two(name="First again"))
    assert [each.document.name for each in kept.listed()] == ["First again", "Second"]


def test_nothing_is_overwritten_unseen(tmp_path: Path) -> None:
    kept = comparisons(tmp_path)
    first = kept.add(two())
    kept.change(first.id, 1, two(note="theirs"))
    with pytest.raises(KeptChanged, match="made from revision 1, but revision 2 is the newest"):
        kept.change(first.id, 1, two(note="mine"))
    assert kept.kept(first.id).document.note == "theirs"


def test_what_is_put_away_can_be_brought_back(tmp_path: Path) -> None:
    kept = comparisons(tmp_path)
    first = kept.add(two())
    kept.put_away(first.id)
    assert kept.listed() == []
    with pytest.raises(NotInLibrary):
        kept.kept(first.id)
    kept.bring_back(first.id)
    assert kept.kept(first.id) == first


def test_a_damaged_file_costs_itself_only(tmp_path: Path) -> None:
    kept = comparisons(tmp_path)
    first, second = kept.add(two()), kept.add(two(name="Whole"))
    (tmp_path / "comparisons" / f"{first.id}.json").write_text('{"revision": 1')
    assert [each.id for each in kept.listed()] == [second.id]
    with pytest.raises(VersionUnreadable, match="cannot be read"):
        kept.kept(first.id)


@pytest.mark.parametrize("id", ["", "../x", "0" * 32, "G" * 32])
def test_an_id_that_is_none_reaches_no_file(tmp_path: Path, id: str) -> None:
    with pytest.raises(NotInLibrary):
        comparisons(tmp_path).kept(id)


@pytest.mark.parametrize(
    ("wrong", "place"),
    [
        ({"name": ""}, "name"),
        ({"a": None}, "a"),
        ({"b": {"mount": {"format": 2}}}, "b.mount"),
        ({"a": {**plain()["a"], "command": {"no such": 1}}}, 'a.command["no such"]'),
        ({"end": "middle"}, "end"),
        ({"rise": 1e9}, "rise"),
        ({"colour": "red"}, "colour"),
        ({"ends": {"left": "far"}}, "ends.left"),
    ],
)
def test_what_is_wrong_is_refused_at_its_place(wrong: dict[str, Any], place: str) -> None:
    with pytest.raises(BadDocument) as refused:
        two(**wrong)
    assert refused.value.faults[0].place.startswith(place)
