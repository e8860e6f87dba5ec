"""Lessons as documents: those that ship, those that are refused, and the way there and back."""

import re
from typing import Any

import pytest

from app.document.errors import BadDocument
from app.document.models import as_document
from app.lessons.document import as_lesson, read_lesson
from app.lessons.shipped import shipped_lessons
from app.shipped import shipped_mounts

SHIPPED = shipped_lessons()


def one(**more: object) -> dict[str, Any]:
    return {"title": "Slop", "steps": [{"mount": "1-centre-pivot", "view": "play", **more}]}


def test_three_lessons_ship() -> None:
    assert [each.title for each in SHIPPED.values()] == [
        "Why a short lever makes slop large",
        "Why the other end moves",
        "What a dial gauge tells",
    ]


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_lesson_takes_about_ten_minutes_and_asks_the_class(name: str) -> None:
    lesson = SHIPPED[name]
    assert 8 <= sum(step.minutes for step in lesson.steps) <= 12
    assert sum(step.question is not None for step in lesson.steps) >= 3


@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_lesson_says_no_figures_so_that_it_holds_in_both_units(name: str) -> None:
    words = " ".join(step.say for step in SHIPPED[name].steps)
    assert re.findall(r"\d", words) == []


@pytest.mark.parametrize("name", SHIPPED)
def test_a_lesson_is_the_same_after_it_was_written_and_read_again(name: str) -> None:
    assert read_lesson(as_lesson(SHIPPED[name])) == SHIPPED[name]


def test_a_step_may_carry_a_mount_of_its_own() -> None:
    drawn = as_document(shipped_mounts()["3-twin-cylinders"])
    step = as_lesson(read_lesson(one(mount=drawn, command={"left cylinder": 5})))["steps"][0]
    assert step["mount"] == drawn
    assert step["command"] == {"left cylinder": 5}


@pytest.mark.parametrize(
    ("lesson", "said"),
    [
        ([], "lesson: is no JSON object; give a lesson with its title and steps"),
        ({"title": "x", "steps": []}, "steps: has too few entries; 1 are the least"),
        ({"title": "x", "steps": [7]}, "steps[0]: found 7, expected an object { }"),
        (one(mount="9-nothing"), "steps[0].mount: is no shipped mount; give one of 1-centre-pivot"),
        (one(mount={"format": 1}), "steps[0].mount.blade: is missing; give it"),
        (one(mount=3), "steps[0].mount"),
        (one(view="spread"), "steps[0].view: found \"spread\", expected 'ratio'"),
        (one(question="why"), "steps[0].question: found \"why\", expected 'ends'"),
        (one(cylinder="lift"), "steps[0].cylinder: is no cylinder of this mount; name one of its cylinders: tilt"),
        (one(command={"lift": 1}), 'steps[0].command["lift"]: there is no cylinder of that name'),
        (one(command=[1]), "steps[0].command: found [1], expected"),
        (one(say="x" * 201), "steps[0].say: has too many characters; 200 are the most"),
        (one(words="x"), "steps[0].words: is no key of a lesson here; known keys are mount, in_inches"),
        (one(minutes=0), "steps[0].minutes: found 0, expected more than 0"),
        ({**one(), "author": "x"}, "author: is no key of a lesson here; known keys are format, title"),
    ],
)
def test_what_is_no_lesson_is_refused_with_its_place_and_what_to_do(lesson: object, said: str) -> None:
    with pytest.raises(BadDocument) as refused:
        read_lesson(lesson)
    assert said in str(refused.value)


def test_a_mount_that_is_refused_is_said_once() -> None:
    with pytest.raises(BadDocument) as refused:
        read_lesson(one(mount={"format": 1, "title": "x", "members": []}))
    assert str(refused.value).count("blade") == str(refused.value).count("steps[0].mount.blade") * 2
