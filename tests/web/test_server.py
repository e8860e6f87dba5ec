"""Routes, their answers and their refusals."""

import re
import socket
from typing import Any

import pytest
from starlette.testclient import TestClient

from app.document.models import as_document
from app.results.readout import Readout
from app.shipped import shipped_mounts
from app.vocabulary import vocabulary_json
from app.web.ask import BODY_LIMIT
from app.web.keys import own_address
from app.web.server import create_app
from tests.answers import has_shape, readout, sentence
from tests.web.client import assert_refused, client

TWIN = as_document(shipped_mounts()["3-twin-cylinders"])


def test_the_page_opens_with_nothing_inline_or_external() -> None:
    answer = client().get("/")
    assert answer.status_code == 200
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    assert "unsafe" not in answer.headers["content-security-policy"]
    assert "style=" not in answer.text
    assert "http:" not in answer.text
    scripts = re.findall(r"<script[^>]*>", answer.text)
    assert scripts[0] == '<script type="application/json" id="vocabulary">'
    assert [re.sub(r"state-[0-9a-f]{16}", "STATE", each) for each in scripts[1:]] == [
        '<script type="module" src="/static/STATE/pages/sketch.js">'
    ]


def test_the_shipped_mounts_are_listed_and_fetched() -> None:
    listed = client().get("/scenarios").json()
    assert [each["name"] for each in listed] == list(shipped_mounts())
    fetched = client().get("/scenarios/3-twin-cylinders").json()
    assert fetched == TWIN


@pytest.mark.parametrize("name", ["nothing", "..%2Fpyproject", "..%2F..%2Fetc%2Fpasswd", "3-twin-cylinders.json"])
def test_a_name_that_is_no_shipped_mount_is_not_found(name: str) -> None:
    assert_refused(client().get(f"/scenarios/{name}"), 404, "not-found")


def test_the_readout_over_the_network_is_the_readout() -> None:
    answer = client().post("/readout", json={"mount": TWIN, "command": {"left cylinder": 20}})
    assert answer.status_code == 200
    expected = readout(shipped_mounts()["3-twin-cylinders"], {"left cylinder": 20})
    assert answer.json()["coupling"] == expected["coupling"]
    assert has_shape(answer.json(), Readout)


def test_every_fault_of_a_document_is_in_one_answer_with_its_place() -> None:
    bad: dict[str, Any] = {**TWIN, "blade": {"left": [5, 0], "right": [0, 0]}, "tolerance": -1}
    faults = assert_refused(client().post("/readout", json={"mount": bad}), 422, "bad-document")
    assert [fault["place"] for fault in faults] == ["mount.tolerance", "mount.blade.left"]


def test_a_command_for_no_cylinder_is_refused_by_name() -> None:
    faults = assert_refused(
        client().post("/readout", json={"mount": TWIN, "command": {"middle": 1}}), 422, "bad-command"
    )
    assert "'left cylinder', 'right cylinder'" in sentence(faults[0])


@pytest.mark.parametrize(
    ("body", "code"),
    [
        (b"", "unreadable"),
        (b"{", "unreadable"),
        (b"\xff\xfe", "unreadable"),
        (b"[" * 100_000, "unreadable"),
        (b"9" * 5000, "unreadable"),
        (b"[]", "bad-document"),
        (b"{}", "bad-document"),
        (b'{"mount": {}, "command": 3, "x": 1}', "bad-document"),
        (b'{"mount": 1, "mount": 2}', "unreadable"),
        (b'{"mount": {"tolerance": NaN}}', "bad-document"),
    ],
)
def test_what_is_no_question_is_refused_in_words(body: bytes, code: str) -> None:
    assert_refused(client().post("/readout", content=body), 422, code)


def test_a_body_over_the_limit_is_refused_declared_or_not() -> None:
    assert_refused(client().post("/readout", content=b" " * (BODY_LIMIT + 1)), 413, "too-large")
    pieces = (b" " * 65536 for _ in range(BODY_LIMIT // 65536 + 2))
    assert_refused(client().post("/readout", content=pieces), 413, "too-large")


def test_other_addresses_and_methods_answer_in_the_same_shape() -> None:
    assert_refused(client().get("/nothing"), 404, "not-found")
    assert_refused(client().get("/static/nothing.js"), 404, "not-found")
    assert_refused(client().get("/readout"), 405, "not-allowed")


@pytest.mark.parametrize(
    ("method", "path", "taken"),
    [
        ("GET", "/readout", "POST"),
        ("HEAD", "/export/csv", "POST"),
        ("PATCH", "/library", "GET, HEAD, POST"),
        ("POST", "/library/0", "GET, HEAD, PUT, DELETE"),
        ("DELETE", "/", "GET, HEAD"),
        ("POST", "/guide/sketch", "GET, HEAD"),
        ("OPTIONS", "/static/icon.svg", "GET, HEAD"),
        ("BREW", "/openapi.json", "GET, HEAD"),
    ],
)
def test_a_method_that_an_address_does_not_take_is_refused_with_those_it_takes(
    method: str, path: str, taken: str
) -> None:
    answer = client().request(method, path)
    assert answer.status_code == 405
    assert answer.headers["allow"] == taken
    if method != "HEAD":
        assert_refused(answer, 405, "not-allowed")


def test_head_is_answered_as_get_is_without_the_body() -> None:
    tab = client()
    id = tab.post("/library", json={"mount": TWIN}).json()["id"]
    pages = ("/", "/compare", "/handout", "/watch", "/guide/sketch", "/static/pages/sketch.js", "/openapi.json")
    lists = ("/scenarios", "/scenarios/3-twin-cylinders", "/library", f"/library/{id}", f"/library/{id}/versions")
    tables = ("/vocabulary", "/presets", "/fits/40", "/nothing", "/library/0", "/static/nothing.js")
    for path in (*pages, *lists, *tables):
        head, get = tab.head(path), tab.get(path)
        assert (path, head.status_code, head.content) == (path, get.status_code, b"")
        assert head.headers == get.headers


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:8420", "", "10.0.0.9", "127.0.0.1.evil.example", "[", "[::1", "a]b"]
)
def test_a_host_that_is_not_this_server_is_refused(host: str) -> None:
    assert_refused(client().get("/scenarios", headers={"host": host}), 421, "unknown-host")


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1:8420", "[::1]:8420", "LOCALHOST:1"])
def test_this_machine_by_any_of_its_names_is_answered(host: str) -> None:
    assert client().get("/scenarios", headers={"host": host}).status_code == 200


@pytest.mark.parametrize("host", ["192.0.2.7:8420", "[2001:db8::1]:8420", "evil.example", "["])
def test_a_server_for_the_whole_network_answers_to_no_name_and_address_but_its_own(host: str) -> None:
    open_to_all = TestClient(create_app(host="0.0.0.0"), base_url="http://127.0.0.1:8420")  # noqa: S104 - meant so
    assert_refused(open_to_all.get("/scenarios", headers={"host": host}), 421, "unknown-host")
    for own in (socket.gethostname(), own_address() or "127.0.0.1"):
        assert open_to_all.get("/scenarios", headers={"host": f"{own}:8420"}).status_code == 200


@pytest.mark.parametrize("origin", ["https://evil.example", "null", "http://127.0.0.1:9999", "http://["])
def test_another_sites_page_may_not_ask(origin: str) -> None:
    answer = client().post("/readout", json={"mount": TWIN}, headers={"origin": origin})
    assert_refused(answer, 403, "other-origin")


def test_every_answer_carries_the_security_headers() -> None:
    for path in ("/", "/static/pages/sketch.js", "/scenarios", "/nothing"):
        headers = client().get(path).headers
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
        assert "frame-ancestors 'none'" in headers["content-security-policy"]


def test_the_open_api_description_documents_every_field() -> None:
    described = client().get("/openapi.json").json()
    assert {"/scenarios", "/scenarios/{name}", "/readout", "/detail"} <= set(described["paths"])
    undocumented = [
        f"{name}.{key}"
        for name, schema in described["components"]["schemas"].items()
        for key, field in schema.get("properties", {}).items()
        if not any(word in field for word in ("description", "$ref", "const")) and not _is_part(field)
    ]
    assert undocumented == []


def test_the_open_api_description_holds_the_messages_of_the_sockets() -> None:
    schemas = client().get("/openapi.json").json()["components"]["schemas"]
    assert set(schemas["LiveQuestion"]["properties"]) == {"seq", "mount", "command", "ends"}
    assert set(schemas["LiveAnswer"]["properties"]) == {"seq", "readout", "reach"}
    assert set(schemas["LiveRefusal"]["properties"]) == {"seq", "error"}
    assert set(schemas["Notice"]["properties"]) == {"revision", "key", "deleted"}


def test_an_answer_is_described_with_all_of_its_fields() -> None:
    schemas = client().get("/openapi.json").json()["components"]["schemas"]
    for name in ("Message", "Readout", "StandingMember", "BudgetSource", "WorkingStep"):
        assert schemas[name]["required"] == list(schemas[name]["properties"])


def _is_part(field: dict[str, Any]) -> bool:
    """Fields that hold another documented part need no text of their own."""
    return "$ref" in str(field.get("anyOf", field.get("items", "")))


@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_every_readout_has_the_documented_fields_and_no_other(name: str) -> None:
    assert has_shape(readout(shipped_mounts()[name]), Readout)


@pytest.mark.parametrize(
    ("path", "title"), [("/compare", "Two mounts side by side"), ("/handout", "Handout of a blade mount")]
)
def test_the_other_pages_open_with_the_words_they_share(path: str, title: str) -> None:
    page = client().get(path)
    assert page.status_code == 200
    assert f"<title>{title}</title>" in page.text
    assert vocabulary_json() in page.text


def test_there_is_a_page_for_each_user_and_one_on_the_document_and_no_other() -> None:
    for name in ("sketch", "teach", "sell", "document"):
        assert client().get(f"/guide/{name}").status_code == 200
    assert_refused(client().get("/guide/fly"), 404, "not-found")
