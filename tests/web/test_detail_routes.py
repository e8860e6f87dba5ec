"""The routes for what is asked once the hand is still, for fits and for grading presets."""

import json
from typing import Any

import pytest

from app.document.models import as_document
from app.results.detail import Detail
from app.shipped import shipped_mounts
from app.standards.fits import FITS
from app.standards.gradings import GRADINGS
from app.web.ask import BODY_LIMIT
from tests.answers import detail, has_shape, reasons, sentence
from tests.web.client import assert_refused, client

TWIN = as_document(shipped_mounts()["3-twin-cylinders"])


# Detail


def test_detail_over_the_network_is_the_detail() -> None:
    answer = client().post("/detail", json={"mount": TWIN, "command": {"left cylinder": 20}})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/json"
    expected = detail(shipped_mounts()["3-twin-cylinders"], {"left cylinder": 20})
    assert answer.json() == json.loads(json.dumps(expected))
    assert has_shape(answer.json(), Detail)


def test_detail_without_a_command_is_of_the_drawn_pose() -> None:
    bare, still = (
        client().post("/detail", json=body).json() for body in ({"mount": TWIN}, {"mount": TWIN, "command": {}})
    )
    assert bare == still
    assert bare["absent"].keys() <= {"wear.joints"}


def test_detail_of_a_loose_mount_is_an_answer_with_the_reason() -> None:
    loose = TWIN | {"members": TWIN["members"][:1]}
    answer = client().post("/detail", json={"mount": loose})
    assert answer.status_code == 200
    assert reasons(answer.json())["spread"] == "the mount hangs loose: hold it first"


@pytest.mark.parametrize(
    ("body", "code", "places"),
    [
        ({"mount": {**TWIN, "tolerance": -1, "load": 3}}, "bad-document", ["mount.load", "mount.tolerance"]),
        ({"mount": TWIN, "command": {"nobody": 1}}, "bad-command", ['command["nobody"]']),
        ({"mount": TWIN, "command": {"left cylinder": "far"}}, "bad-command", ['command["left cylinder"]']),
        ({"mount": TWIN, "command": []}, "bad-document", ["command"]),
        ({"mount": TWIN, "draws": 5}, "bad-document", ["draws"]),
        ({}, "bad-document", ["mount"]),
        ([], "bad-document", [""]),
    ],
)
def test_a_question_for_detail_that_is_wrong_is_refused_with_every_place(
    body: object, code: str, places: list[str]
) -> None:
    faults = assert_refused(client().post("/detail", json=body), 422, code)
    assert [fault["place"] for fault in faults] == places


@pytest.mark.parametrize("content", [b"", b"{", b"\xff", b'{"mount": NaN'])
def test_what_is_no_json_is_refused(content: bytes) -> None:
    assert_refused(client().post("/detail", content=content), 422, "unreadable")


def test_a_body_that_is_too_large_is_refused() -> None:
    assert_refused(client().post("/detail", content=b" " * (BODY_LIMIT + 1)), 413, "too-large")


def test_detail_cannot_be_got() -> None:
    assert_refused(client().get("/detail"), 405, "not-allowed")


# Fits


def test_fits_at_a_diameter_are_listed_closest_first() -> None:
    listed = client().get("/fits/40").json()
    assert [fit["fit"] for fit in listed] == list(FITS)
    assert {"fit": "H8/f7", "least": 0.025, "greatest": 0.089} in listed


@pytest.mark.parametrize("nominal", ["18.5", "25.4", "80", "080", "31.123456"])
def test_a_diameter_may_have_decimals(nominal: str) -> None:
    assert client().get(f"/fits/{nominal}").status_code == 200


@pytest.mark.parametrize(
    "nominal", ["18", "80.1", "0", "-30", "abc", "nan", "inf", "1e2", "3_0", "٣0.5x", "0x20", "30mm", "999999", "30%20"]
)
def test_what_is_no_tabulated_diameter_is_refused_with_the_limits(nominal: str) -> None:
    faults = assert_refused(client().get(f"/fits/{nominal}"), 422, "bad-command")
    assert faults[0]["place"] == "nominal"
    assert "give more than 18 and at most 80 mm" in sentence(faults[0])


@pytest.mark.parametrize("path", ["/fits/", "/fits", "/fits/30/40"])
def test_an_address_beside_the_fits_is_not_found(path: str) -> None:
    assert_refused(client().get(path, follow_redirects=False), 404, "not-found")


# Presets


def test_presets_are_the_published_gradings_with_their_sources() -> None:
    listed: list[dict[str, Any]] = client().get("/presets").json()
    assert listed == [vars(grading) for grading in GRADINGS]
    assert all(preset["source"] and preset["tolerance"] > 0 for preset in listed)


@pytest.mark.parametrize("path", ["/detail", "/fits/{nominal}", "/presets"])
def test_the_machine_readable_description_has_the_route(path: str) -> None:
    assert path in client().get("/openapi.json").json()["paths"]
