"""The server does what it says of itself: its OpenAPI description, tried by cases made from it (schemathesis).

Half of the cases are what the description makes up; the other half carry a shipped mount or a kept one's id, so that
they get past the reading. The meaning of a document is not in a schema: a made-up one may be refused.
"""

from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi import checks

from app.document.models import as_document
from app.library.store import Library
from app.shipped import shipped_mounts
from app.web.server import create_app

HERE = {"host": "127.0.0.1:8420"}
EACH, EACH_IN_FULL = 4, 300
"""Cases a route in the test line, and with ``--full``."""

CHECKS = [
    not_a_server_error,
    checks.status_code_conformance,
    checks.content_type_conformance,
    checks.response_headers_conformance,
    checks.response_schema_conformance,
]

PATHS = create_app().openapi()["paths"]
PLACES = [(method, path) for path, methods in PATHS.items() for method in methods]
ROUTES = [f"{method.upper()} {path}" for method, path in PLACES]
MOUNT = as_document(shipped_mounts()["1-centre-pivot"])
QUESTION = {"cylinder": "tilt cylinder", "end": "left"}


class Desk:
    """The application over a library with one mount in it, and what it says of itself."""

    def __init__(self, folder: Path) -> None:
        library = Library(folder)
        self.kept = library.add(shipped_mounts()["1-centre-pivot"])[0]
        schema = schemathesis.openapi.from_asgi("/openapi.json", create_app(library=library, processes=0), headers=HERE)
        self.routes = {route: schema[path][method] for route, (method, path) in zip(ROUTES, PLACES, strict=True)}

    def sound(self, case: Any) -> None:  # noqa: ANN401 - a case of whichever route
        """Let a case name what there is."""
        if "id" in (case.path_parameters or {}):
            case.path_parameters["id"] = self.kept
        for name, value in (("name", "1-centre-pivot"), ("nominal", "40"), ("revision", "1")):
            if name in (case.path_parameters or {}):
                case.path_parameters[name] = value
        if isinstance(case.body, dict) and case.path == "/compare":
            case.body |= {"a": {"mount": MOUNT}, "b": {"mount": MOUNT}}
        elif isinstance(case.body, dict) and case.path.startswith("/comparisons"):
            case.body |= {"comparison": {"name": "Two", "a": {"mount": MOUNT}, "b": {"mount": MOUNT}}}
        elif isinstance(case.body, dict) and case.path.startswith("/run"):
            case.body |= {"mount": MOUNT, "run": {**case.body.get("run", {}), "seconds": 2}}
        elif isinstance(case.body, dict):
            case.body |= {"mount": MOUNT, "command": {}}
            case.body |= QUESTION if case.path == "/working" else {}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return Desk(tmp_path_factory.mktemp("described"))


@pytest.mark.parametrize("route", ROUTES)
def test_a_route_answers_as_it_is_described(desk: Desk, route: str, request: pytest.FixtureRequest) -> None:
    @seed(20261127)
    @settings(
        max_examples=EACH_IN_FULL if request.config.getoption("full") else EACH,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(case=desk.routes[route].as_strategy(), sound=st.booleans())
    def answered_as_described(case: Any, sound: bool) -> None:  # noqa: ANN401 - as schemathesis makes them
        if sound:
            desk.sound(case)
        case.validate_response(case.call(headers=HERE), checks=CHECKS)

    answered_as_described()


@pytest.mark.parametrize(("method", "path"), PLACES)
def test_every_status_of_a_route_is_named_and_every_refusal_has_the_one_shape(method: str, path: str) -> None:
    answers = PATHS[path][method]["responses"]
    assert {"401", "403", "413", "421", "500"} <= set(answers)
    assert not [status for status in answers if not status.isdecimal()]
    for status, answer in answers.items():
        if int(status) >= 400:
            assert "ErrorAnswer" in str(answer["content"]["application/json"]["schema"])


def test_no_two_models_of_the_server_have_one_name() -> None:
    """FastAPI would tell them apart by their modules, and the page's types by neither."""
    assert [name for name in create_app().openapi()["components"]["schemas"] if "__" in name] == []
