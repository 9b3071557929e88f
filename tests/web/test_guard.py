"""Who may come in: every rule has a request that only this rule turns away."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from fastapi.routing import APIRoute
from starlette.testclient import TestClient

from halfbore.web.guard import LARGEST
from tests.web.conftest import HOST, TOKEN


def test_the_opening_address_gives_the_session_and_takes_the_token_out(stranger: TestClient) -> None:
    answer = stranger.get(f"/?token={TOKEN}&q=E1")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/?q=E1"
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert TOKEN not in cookie
    assert stranger.get("/").status_code == 200


@pytest.mark.parametrize(
    "address", ["/", "/positions/T1-A", "/api/positions", "/static/halfbore.css", "/nothing"]
)
def test_without_a_session_nothing_is_given_out(stranger: TestClient, address: str) -> None:
    assert stranger.get(address).status_code == 403
    assert stranger.get(f"{address}?token=guessed").status_code == 403
    assert stranger.get(address, headers={"cookie": "halfbore_8484=guessed"}).status_code == 403


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8484", "127.0.0.1", "127.0.0.1:9", ""])
def test_another_host_is_refused_also_where_data_is_read(client: TestClient, host: str) -> None:
    assert client.get("/api/positions", headers={"host": host}).status_code == 403


@pytest.mark.parametrize("origin", ["http://evil.example", "null", f"https://{HOST}", "http://127.0.0.1:9"])
def test_another_origin_is_refused_also_where_data_is_read(client: TestClient, origin: str) -> None:
    assert client.get("/api/positions", headers={"origin": origin}).status_code == 403
    assert client.get("/api/positions", headers={"origin": f"http://{HOST}"}).status_code == 200


def posts(client: TestClient) -> list[str]:
    """Return an address of every POST of the application."""
    values = {"machine": "T1", "line": "-", "tag": "T1-A"}
    found = client.app.openapi()["paths"]  # type: ignore[attr-defined]
    of_api = [path for path, methods in found.items() if "post" in methods]
    return [*of_api, *(path.format(**values) for path in POSTS)]


POSTS = ("/undo", "/run", "/run/cancel", "/lines/{machine}/{line}", "/positions/{tag}")


def all_routes(routes: list[object]) -> list[APIRoute]:
    """Return every route, those of routers that are included too."""
    found: list[APIRoute] = []
    for route in routes:
        if isinstance(route, APIRoute):
            found.append(route)
        inner = getattr(getattr(route, "original_router", None), "routes", None)
        found += all_routes(list(inner)) if inner else []
    return found


def test_the_list_of_posts_is_whole(client: TestClient) -> None:
    routes = all_routes(list(client.app.routes))  # type: ignore[attr-defined]
    made = {route.path for route in routes if "POST" in route.methods}
    assert made - {p for p in made if p.startswith("/api") or p in ("/document",)} >= set(POSTS)
    assert all({*route.methods} <= {"GET", "POST", "HEAD"} for route in routes)


def test_no_post_without_the_secret_of_our_forms(client: TestClient) -> None:
    before = client.get("/api/history").json()
    for address in posts(client):
        assert client.post(address, data={"do": "keep"}).status_code == 403, address
        assert client.post(address, json={}).status_code == 403, address
        assert client.post(address, data={"csrf": "guessed"}).status_code == 403, address
        assert client.post(address, headers={"x-csrf-token": "guessed"}).status_code == 403, address
    assert client.get("/api/history").json() == before


def test_the_secret_serves_as_field_and_as_header(client: TestClient, csrf: str) -> None:
    assert client.post("/run/cancel", data={"csrf": csrf}).status_code == 303
    assert client.post("/run/cancel", headers={"x-csrf-token": csrf}).status_code == 303


def test_a_program_comes_in_by_the_token_alone(stranger: TestClient) -> None:
    bearer = {"authorization": f"Bearer {TOKEN}"}
    assert stranger.get("/api/positions", headers=bearer).status_code == 200
    new = {"tag": "T1-A", "path": "seat.note", "value": "looked at"}
    assert stranger.post("/api/document", json=new, headers=bearer).status_code == 200
    assert stranger.post("/api/document", json=new, headers={"authorization": "Bearer no"}).status_code == 403


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "OPTIONS", "TRACE"])
def test_other_methods_are_refused(client: TestClient, method: str) -> None:
    assert client.request(method, "/api/document").status_code == 403


def test_a_large_request_is_refused_before_it_is_read(client: TestClient, csrf: str) -> None:
    answer = client.post("/run/cancel", data={"csrf": csrf, "x": "a" * LARGEST})
    assert answer.status_code == 413
    assert "too large" in answer.text
    chunks = iter([b"csrf=", csrf.encode()])
    assert client.post("/run/cancel", content=chunks).status_code == 403


@pytest.mark.parametrize("address", ["/", "/api/positions", "/static/halfbore.js", "/nothing", "/?token=no"])
def test_every_answer_says_what_a_browser_may_do_with_it(client: TestClient, address: str) -> None:
    headers = client.get(address).headers
    policy = headers["content-security-policy"]
    assert "default-src 'self'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["x-frame-options"] == "DENY"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"
    assert "access-control-allow-origin" not in headers


def test_two_runs_have_two_secrets(app_at: Callable[[Path], TestClient], copied: Path) -> None:
    one, two = (app_at(copied).app.state.guard for _ in range(2))  # type: ignore[attr-defined]
    assert one.session != two.session
    assert one.csrf != two.csrf


@pytest.mark.parametrize(
    "name",
    ["..%2F..%2Fetc%2Fpasswd", "%2e%2e%2fapp.py", "app.py", "../app.py", "Black.ttf", "halfbore.css%00"],
)
def test_no_path_from_outside_reaches_the_files(client: TestClient, name: str) -> None:
    assert client.get(f"/static/{name}").status_code == 404


@pytest.mark.parametrize(
    "target", ["//evil.example", "http://evil.example", "/\\evil.example", "javascript:0", ""]
)
def test_the_way_back_leads_to_our_own_pages_only(client: TestClient, csrf: str, target: str) -> None:
    answer = client.post("/run/cancel", data={"csrf": csrf, "next": target})
    assert answer.headers["location"] == "/"
