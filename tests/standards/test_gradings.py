"""The grading tolerances offered to start from: each says what it is for, how much, and where it stands."""

import pytest

from app.document.models import Mount
from app.document.reading import read_mount
from app.standards.gradings import GRADINGS, Grading
from tests.answers import readout
from tests.mounts import twin


def mount_with(grading: Grading) -> Mount:
    return read_mount(twin(tolerance=grading.tolerance))


def test_each_stands_once_and_the_finest_comes_first() -> None:
    assert len({grading.label for grading in GRADINGS}) == len(GRADINGS)
    tolerances = [grading.tolerance for grading in GRADINGS]
    assert min(tolerances) == tolerances[0] > 0


@pytest.mark.parametrize("grading", GRADINGS, ids=lambda grading: grading.label)
def test_each_can_be_put_into_a_document_as_its_tolerance(grading: Grading) -> None:
    assert readout(mount_with(grading))["budget"]["tolerance"] == grading.tolerance


@pytest.mark.parametrize("grading", GRADINGS, ids=lambda grading: grading.label)
def test_each_names_its_source_and_where_in_it(grading: Grading) -> None:
    assert any(mark in grading.source for mark in ("p. ", "par. ", "s. ", "series "))
