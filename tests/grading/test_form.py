"""The form of the settings: whatever has a default says it, and where it comes from."""

from app.grading.form import form
from app.grading.origins import ORIGINS


def test_every_setting_says_its_default_and_where_that_comes_from() -> None:
    fields = [field for group in form() for field in group.fields]
    assert {field.path for field in fields} == set(ORIGINS)
    for field in fields:
        assert "default" in field.meaning, field.path
        assert field.origin, field.path
