"""A request that does not come to its end, and a line with nobody at its other end, on a server of its own."""

import base64
import json
import multiprocessing
import socket
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from app.cli import _listen
from app.incidents import LOG
from app.library.store import Library
from app.web.server import create_app
from app.web.serving import server_of

PATIENCE_S, PING_S = 0.6, 0.25
LONGEST_S = 60

POST = b"POST /readout HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 100\r\n\r\n"
GET = b"GET /scenarios HTTP/1.1\r\nHost: 127.0.0.1\r\n"

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="a listening socket is handed to a forked process")


def serve(listening: socket.socket, data: Path) -> None:
    server_of(create_app(library=Library(data), patience_s=PATIENCE_S), PING_S).run(sockets=[listening])


@dataclass(frozen=True)
class Desk:
    """A server in a process of its own, and its data folder."""

    at: tuple[str, int]
    data: Path

    def line(self) -> socket.socket:
        return socket.create_connection(self.at, timeout=LONGEST_S)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    data = tmp_path_factory.mktemp("patience")
    listening = _listen("127.0.0.1", 8500)
    multiprocessing.get_context("forkserver").set_forkserver_preload([__name__])
    process = multiprocessing.get_context("forkserver").Process(target=serve, args=(listening, data))
    process.start()
    yield Desk(listening.getsockname(), data)
    listening.close()
    process.terminate()
    process.join()


def until_closed(line: socket.socket) -> bytes:
    """Everything that comes before the other side hangs up."""
    received = b""
    while piece := line.recv(65536):
        received += piece
    return received


def assert_too_slow(answer: bytes) -> None:
    head, _, body = answer.partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 408 ")
    assert b"connection: close" in head.lower()
    error = json.loads(body)["error"]
    assert error["code"] == "too-slow"
    assert (
        error["message"] == f"the request had not come whole after {PATIENCE_S:g} s; send it again, over a better line"
    )


@pytest.mark.parametrize(
    "begun",
    [GET, b"G", GET + b"X-Long: " + b"x" * 1000, POST, POST + b'{"mount": '],
    ids=["no end of the head", "one letter", "in the middle of a header", "no body", "part of a body"],
)
def test_a_request_that_does_not_come_to_its_end_is_refused_and_its_line_closed(desk: Desk, begun: bytes) -> None:
    with desk.line() as line:
        line.sendall(begun)
        assert_too_slow(until_closed(line))


@pytest.mark.parametrize("begun", [GET + b"X-Long: ", POST], ids=["head", "body"])
def test_a_request_that_drips_is_not_waited_for_any_longer(desk: Desk, begun: bytes) -> None:
    with desk.line() as line:
        line.sendall(begun)
        since = time.monotonic()
        assert dripping(line).startswith(b"HTTP/1.1 408 ")
        assert PATIENCE_S * 0.9 < time.monotonic() - since < LONGEST_S / 2


def dripping(line: socket.socket) -> bytes:
    """How the answer to a letter now and then begins; a letter that comes after it may break off the rest."""
    line.settimeout(PATIENCE_S / 20)
    while True:
        try:
            return line.recv(64)
        except TimeoutError:
            line.sendall(b"a")


def test_a_line_that_says_nothing_is_closed(desk: Desk) -> None:
    with desk.line() as line:
        assert until_closed(line) == b""


def test_a_body_that_nobody_reads_does_not_keep_its_line_open(desk: Desk) -> None:
    with desk.line() as line:
        line.sendall(GET + b"Content-Length: 100\r\n\r\nsome")
        assert until_closed(line).startswith(b"HTTP/1.1 200 ")


def test_what_is_no_http_is_refused_in_the_one_shape(desk: Desk) -> None:
    with desk.line() as line:
        line.sendall(b"\x16\x03\x01\x02\x00\x01\r\n\r\n")
        head, _, body = until_closed(line).partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 400 ")
    assert json.loads(body)["error"]["code"] == "no-request"


def test_patience_is_counted_for_every_request_on_a_line_anew(desk: Desk) -> None:
    with desk.line() as line:
        since = time.monotonic()
        while time.monotonic() - since < 2 * PATIENCE_S:
            line.sendall(b"HEAD /vocabulary HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
            assert line.recv(65536).startswith(b"HTTP/1.1 200 ")


def test_a_request_that_breaks_off_is_no_incident(desk: Desk) -> None:
    with desk.line() as line:
        line.sendall(POST)
    with desk.line() as line:
        line.sendall(GET + b"Connection: close\r\n\r\n")
        until_closed(line)
    assert not (desk.data / LOG).exists()


def test_a_live_line_is_pinged_as_long_as_somebody_answers_and_then_closed(desk: Desk) -> None:
    """RFC 6455: a ping begins with 0x89; the answer repeats what it carries, behind a mask, here of noughts."""
    with desk.line() as line:
        key = base64.b64encode(b"any sixteen byte").decode()
        line.sendall(
            f"GET /live HTTP/1.1\r\nHost: 127.0.0.1\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
            f"Sec-WebSocket-Key: {key}\r\nSec-WebSocket-Version: 13\r\n\r\n".encode()
        )
        received = b""
        while not received.endswith(b"\r\n\r\n"):
            received += line.recv(1)
        since = time.monotonic()
        while time.monotonic() - since < 2 * PATIENCE_S:
            kind, length = line.recv(2)
            assert kind == 0x89
            line.sendall(bytes([0x8A, 0x80 | length]) + bytes(4) + line.recv(length))
        assert until_closed(line)[0] == 0x89, "asked once more, without an answer"
