"""Drawing and table as downloads."""

import csv
import io
from typing import Any

import pytest
from ezdxf.filemanagement import read
from pypdf import PdfReader

from app.analysis import Analysis
from app.document.models import as_document
from app.export import EXPORTS
from app.export.csv import csv_bytes
from app.export.dxf import dxf_bytes
from app.export.files import file_name
from app.shipped import shipped_mounts
from app.web.ask import BODY_LIMIT
from tests.answers import readout
from tests.mounts import document, end, rod
from tests.web.client import assert_refused, client

MOUNT = shipped_mounts()["3-twin-cylinders"]
TWIN = as_document(MOUNT)
LOOSE = document([rod("stay", end("frame", (0, 500)), end("blade", (0, 100)))])
COMMAND = {"left cylinder": 12.5}


def edge_of(content: bytes) -> list[tuple[float, float]]:
    """The two ends of the blade's edge in a drawing."""
    drawing = read(io.StringIO(content.decode()))
    [edge] = drawing.modelspace().query('LINE[layer=="EDGE"]')
    return [(point.x, point.y) for point in (edge.dxf.start, edge.dxf.end)]


def test_the_drawing_is_downloaded_as_drawn() -> None:
    answer = client().post("/export/dxf", json={"mount": TWIN, "command": COMMAND, "pose": "drawn"})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/vnd.dxf"
    assert (
        'attachment; filename="Two-upright-cylinders-and-a-side-stay-drawn.dxf"'
        in answer.headers["content-disposition"]
    )
    assert edge_of(answer.content) == [MOUNT.blade.left, MOUNT.blade.right] == edge_of(dxf_bytes(Analysis(MOUNT)))


def test_the_drawing_is_downloaded_worked() -> None:
    answer = client().post("/export/dxf", json={"mount": TWIN, "command": COMMAND, "pose": "worked"})
    ends = readout(MOUNT, dict(COMMAND))["pose"]["ends"]
    assert edge_of(answer.content) == [pytest.approx(ends["left"]), pytest.approx(ends["right"])]
    assert "side-stay-worked.dxf" in answer.headers["content-disposition"]


def test_the_table_is_downloaded() -> None:
    answer = client().post("/export/csv", json={"mount": TWIN, "command": COMMAND})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert "side-stay.csv" in answer.headers["content-disposition"]
    assert answer.content.decode() == csv_bytes(Analysis(MOUNT, COMMAND)).decode()
    assert next(csv.reader(io.StringIO(answer.text))) == ["\ufeffsection", "item", "quantity", "value", "unit"]


def test_the_sheet_is_downloaded_on_the_paper_and_at_the_scale_asked_for() -> None:
    chosen = {"pose": "worked", "system": "inch", "paper": "B", "scale": "1:16"}
    answer = client().post("/export/pdf", json={"mount": TWIN, "command": COMMAND, **chosen})
    assert (answer.status_code, answer.headers["content-type"]) == (200, "application/pdf")
    assert "side-stay-worked.pdf" in answer.headers["content-disposition"]
    [page] = PdfReader(io.BytesIO(answer.content)).pages
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (17 * 72, 11 * 72)
    assert {"1:16", "inches", "worked: left cylinder +0.49, right cylinder +0.00"} <= set(
        page.extract_text().split("\n")
    )


def test_a_sheet_without_a_choice_is_the_usual_paper_at_the_largest_scale_that_fits() -> None:
    for display, paper in (("metric", 297 * 72 / 25.4), ("inch", 11 * 72)):
        answer = client().post("/export/pdf", json={"mount": {**TWIN, "display": display}})
        [page] = PdfReader(io.BytesIO(answer.content)).pages
        assert float(page.mediabox.width) == pytest.approx(paper, abs=0.001)


def test_a_scale_that_does_not_fit_is_refused_with_its_numbers() -> None:
    refused = client().post("/export/pdf", json={"mount": TWIN, "paper": "A4", "scale": "1:5"})
    [fault] = assert_refused(refused, 422, "does-not-fit")
    assert fault["place"] == "scale"
    assert fault["values"]["room"] == [259.0, "fine"]


@pytest.mark.parametrize(("key", "wrong"), [("paper", "A5"), ("paper", 4), ("scale", "1:3"), ("scale", 10)])
def test_a_paper_or_scale_there_is_not_is_refused(key: str, wrong: object) -> None:
    refused = client().post("/export/pdf", json={"mount": TWIN, key: wrong})
    [fault] = assert_refused(refused, 422, "bad-document")
    assert fault["place"] == key
    assert "give one of" in fault["text"]


def test_the_table_is_in_the_units_asked_for() -> None:
    answer = client().post("/export/csv", json={"mount": TWIN, "command": COMMAND, "system": "inch"})
    assert answer.content == csv_bytes(Analysis(MOUNT, COMMAND), "inch") != csv_bytes(Analysis(MOUNT, COMMAND))


def test_a_loose_mount_has_a_drawing_and_a_table_but_no_worked_pose() -> None:
    assert client().post("/export/dxf", json={"mount": LOOSE}).status_code == 200
    assert client().post("/export/csv", json={"mount": LOOSE}).status_code == 200
    refused = client().post("/export/dxf", json={"mount": LOOSE, "pose": "worked"})
    assert [fault["place"] for fault in assert_refused(refused, 422, "not-located")] == ["pose"]


@pytest.mark.parametrize("path", [f"/export/{name}" for name in EXPORTS])
@pytest.mark.parametrize(
    ("body", "code", "places"),
    [
        ([], "bad-document", [""]),
        ({"mount": {**TWIN, "tolerance": -1}}, "bad-document", ["mount.tolerance"]),
        ({"mount": TWIN, "command": {"nobody": 1}}, "bad-command", ['command["nobody"]']),
        ({"mount": TWIN, "extra": 1}, "bad-document", ["extra"]),
    ],
)
def test_what_cannot_be_exported_is_refused_with_every_fault(
    path: str,
    body: Any,  # noqa: ANN401
    code: str,
    places: list[str],
) -> None:
    faults = assert_refused(client().post(path, json=body), 422, code)
    assert [fault["place"] for fault in faults] == places


@pytest.mark.parametrize("pose", ["", "both", None, 1, ["drawn"]])
def test_a_pose_that_is_neither_is_refused_beside_the_other_faults(pose: object) -> None:
    refused = client().post("/export/dxf", json={"mount": {**TWIN, "tolerance": -1}, "pose": pose})
    assert [fault["place"] for fault in assert_refused(refused, 422, "bad-document")] == ["mount.tolerance", "pose"]
    refused = client().post("/export/dxf", json={"mount": TWIN, "pose": pose})
    assert [fault["place"] for fault in assert_refused(refused, 422, "bad-document")] == ["pose"]


def test_the_drawing_is_in_inches_where_the_reader_or_else_the_document_says_so() -> None:
    in_inches = [(x / 25.4, y / 25.4) for x, y in (MOUNT.blade.left, MOUNT.blade.right)]
    asked = client().post("/export/dxf", json={"mount": TWIN, "system": "inch"})
    assert edge_of(asked.content) == in_inches
    kept = client().post("/export/dxf", json={"mount": {**TWIN, "display": "inch"}})
    assert edge_of(kept.content) == in_inches
    overruled = client().post("/export/dxf", json={"mount": {**TWIN, "display": "inch"}, "system": "metric"})
    assert edge_of(overruled.content) == [MOUNT.blade.left, MOUNT.blade.right]


@pytest.mark.parametrize("system", ["", "feet", 1, ["inch"]])
def test_a_system_there_is_not_is_refused_beside_the_other_faults(system: object) -> None:
    refused = client().post("/export/dxf", json={"mount": {**TWIN, "tolerance": -1}, "system": system})
    faults = assert_refused(refused, 422, "bad-document")
    assert [fault["place"] for fault in faults] == ["mount.tolerance", "system"]
    assert faults[1]["text"] == "is none of the choices; give one of metric, inch"


@pytest.mark.parametrize("path", [f"/export/{name}" for name in EXPORTS])
def test_a_body_over_the_limit_is_refused(path: str) -> None:
    assert_refused(client().post(path, content=b" " * (BODY_LIMIT + 1)), 413, "too-large")
    pieces = (b" " * 65536 for _ in range(BODY_LIMIT // 65536 + 2))
    assert_refused(client().post(path, content=pieces), 413, "too-large")


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Two upright cylinders", "Two-upright-cylinders.csv"),
        ("../../etc/passwd", "etc-passwd.csv"),
        ("C:\\mounts\\one", "C-mounts-one.csv"),
        ('say "hi"; filename=x', "say-hi-filename-x.csv"),
        ("a\r\nSet-Cookie: b", "a-Set-Cookie-b.csv"),
        ("...", "mount.csv"),
        ("=1", "1.csv"),
        ("😀", "mount.csv"),
        ("😀 blade", "blade.csv"),
        ("con", "mount-con.csv"),
        ("CON", "mount-CON.csv"),
        ("COM¹", "mount-COM¹.csv"),
        ("LPT1", "mount-LPT1.csv"),
        ("Träger für 左", "Träger-für-左.csv"),
        ("x" * 120, "x" * 60 + ".csv"),
    ],
)
def test_a_file_is_named_after_the_title_and_safely(title: str, name: str) -> None:
    """Device names: Microsoft, Naming Files, Paths, and Namespaces (from memory)."""
    assert file_name(title, ".csv") == name


@pytest.mark.parametrize(
    ("title", "disposition"),
    [
        ("Träger 左", "attachment; filename=\"Trager.csv\"; filename*=UTF-8''Tr%C3%A4ger-%E5%B7%A6.csv"),
        ("左", "attachment; filename=\"mount.csv\"; filename*=UTF-8''%E5%B7%A6.csv"),
        ("plain", "attachment; filename=\"plain.csv\"; filename*=UTF-8''plain.csv"),
        (
            "a\r\nSet-Cookie: b=1",
            "attachment; filename=\"a-Set-Cookie-b-1.csv\"; filename*=UTF-8''a-Set-Cookie-b-1.csv",
        ),
    ],
)
def test_the_name_goes_out_in_plain_letters_and_in_full(title: str, disposition: str) -> None:
    """RFC 6266, section 4.3 and appendix D: filename in plain letters first, then filename* after RFC 5987."""
    answer = client().post("/export/csv", json={"mount": {**TWIN, "title": title}})
    assert answer.headers["content-disposition"] == disposition


def test_another_sites_page_may_not_export() -> None:
    answer = client().post("/export/csv", json={"mount": TWIN}, headers={"origin": "https://evil.example"})
    assert_refused(answer, 403, "other-origin")


def test_the_open_api_description_has_the_export_and_library_routes_and_their_bodies() -> None:
    described = client().get("/openapi.json").json()
    methods = {path: sorted(entry) for path, entry in described["paths"].items()}
    assert methods["/export/dxf"] == methods["/export/csv"] == ["post"]
    taken = described["paths"]["/export/dxf"]["post"]["requestBody"]["content"]["application/json"]["schema"]["allOf"]
    assert taken[0] == {"$ref": "#/components/schemas/ExportQuestion"}
    assert taken[1]["properties"]["system"]["enum"] == ["metric", "inch"]
    assert methods["/library"] == ["get", "post"]
    assert methods["/library/{id}"] == ["delete", "get", "put"]
    assert methods["/library/{id}/versions"] == methods["/library/{id}/versions/{revision}"] == ["get"]
    assert methods["/library/{id}/restore"] == ["post"]
    assert "pose" in described["components"]["schemas"]["ExportQuestion"]["properties"]
    assert "revision" in described["components"]["schemas"]["Step"]["required"]
