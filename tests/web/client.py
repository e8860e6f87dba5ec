"""A client of the application, and the one check of the one error shape."""

import asyncio
from collections.abc import Coroutine
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from typing import Any

import httpx2 as httpx
from fastapi import FastAPI
from starlette.testclient import TestClient

from app.web.server import create_app
from tests.answers import sentence, typed

LIVE = "ws://127.0.0.1:8420/live"


def aside(work: Coroutine[Any, Any, None]) -> None:
    """Run async work on a loop of its own, whatever loop the browser's driver holds in this thread."""
    with ThreadPoolExecutor(1) as thread:
        thread.submit(asyncio.run, work).result()


@cache
def application() -> FastAPI:
    """The application over the data folder of the test run, made once: it keeps nothing of one client for another."""
    return create_app(processes=0)


def client() -> TestClient:
    return TestClient(application(), base_url="http://127.0.0.1:8420")


def client_alone() -> TestClient:
    """A client of an application of its own: to start and end it (``with``), or to make it with other registries."""
    return TestClient(create_app(processes=0), base_url="http://127.0.0.1:8420")


def assert_refused(answer: httpx.Response, status: int, code: str) -> list[dict[str, Any]]:
    """Every error of the server has the same shape; returns its faults."""
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/json"
    body: dict[str, Any] = answer.json()
    assert set(body) == {"error"}
    assert set(body["error"]) == {"code", "message", "faults"}
    assert body["error"]["code"] == code
    assert body["error"]["faults"]
    faults: list[dict[str, Any]] = body["error"]["faults"]
    assert all(set(fault) == {"place", "code", "text", "values"} for fault in faults)
    first = ": ".join(part for part in (faults[0]["place"], sentence(faults[0])) if part)
    assert typed(body["error"]["message"]) == first
    return faults
