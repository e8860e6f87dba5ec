"""Lessons over HTTP: those that ship, and those that are kept."""

from pathlib import Path

from app.lessons.document import as_lesson
from app.lessons.shipped import shipped_lessons
from tests.web.client import assert_refused, client
from tests.web.test_comparison_routes import desk

LESSON = {"title": "Slop", "steps": [{"mount": "1-centre-pivot", "view": "play"}]}


def test_the_shipped_lessons_are_listed_and_given() -> None:
    listed = client().get("/shipped-lessons").json()
    assert [each["name"] for each in listed] == ["1-short-lever", "2-other-end", "3-dial-gauge"]
    assert all(each["steps"] == 7 and each["note"] for each in listed)
    found = client().get("/shipped-lessons/1-short-lever").json()
    assert found == as_lesson(shipped_lessons()["1-short-lever"])
    assert_refused(client().get("/shipped-lessons/none"), 404, "not-found")


def test_a_lesson_is_kept_changed_listed_and_put_away(tmp_path: Path) -> None:
    asked = desk(tmp_path)
    added = asked.post("/lessons", json={"lesson": LESSON})
    assert added.status_code == 201
    id = added.json()["id"]
    step = {"lesson": {**LESSON, "title": "Slop again"}, "revision": 1}
    assert asked.put(f"/lessons/{id}", json=step).json() == {"id": id, "revision": 2}
    assert_refused(asked.put(f"/lessons/{id}", json=step), 409, "changed-elsewhere")
    (entry,) = asked.get("/lessons").json()
    assert (entry["title"], entry["steps"]) == ("Slop again", 1)
    assert asked.get(f"/lessons/{id}").json()["lesson"] == {**LESSON, "title": "Slop again", "format": 1, "note": ""}
    assert asked.delete(f"/lessons/{id}").json() == {"id": id}
    assert_refused(asked.get(f"/lessons/{id}"), 404, "not-found")
    assert asked.post(f"/lessons/{id}/restore").status_code == 200


def test_what_is_no_lesson_is_not_kept(tmp_path: Path) -> None:
    asked = desk(tmp_path)
    assert_refused(asked.post("/lessons", json={"lesson": {**LESSON, "steps": []}}), 422, "bad-document")
    assert asked.get("/lessons").json() == []
