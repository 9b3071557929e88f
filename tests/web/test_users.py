"""Several users on one workspace: who comes in, what each role may do, and whose changes are taken back."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.user import Role
from halfbore.web.app import create_app
from halfbore.web.fields import at_text
from halfbore.web.guard import needed
from halfbore.workspace import users
from halfbore.workspace.users import LASTS, LoginError, Logins, WaitError, change_password
from tests.web.conftest import HOST, PASSWORD
from tests.web.test_guard import all_routes

NAME = "bearings.plant.example"
AT = ("K", "", "K-1")


@pytest.fixture
def team(peopled: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(peopled, tmp_path / "team.halfbore"))


Person = Callable[..., TestClient]


@pytest.fixture
def person(team: Path) -> Iterator[Person]:
    """Return a function that gives a client in which somebody is logged in; nobody for no name."""
    app = create_app(team, hosts=(HOST, NAME), who="nobody", https=(NAME,))
    first = TestClient(app, base_url=f"http://{HOST}", follow_redirects=False)

    def made(name: str = "", base: str = f"http://{HOST}") -> TestClient:
        client = TestClient(app, base_url=base, follow_redirects=False)
        if name:
            answer = client.post("/api/login", json={"name": name, "password": PASSWORD})
            assert answer.status_code == 200, answer.text
            client.headers[answer.json()["header"]] = answer.json()["csrf"]
        return client

    with first:
        yield made


def note(client: TestClient, text: str, version: int | None = None) -> int:
    new = {"tag": "K-1", "path": "seat.note", "value": text, "version": version}
    return client.post("/api/document", json=new).status_code


@pytest.mark.parametrize("address", ["/", "/positions/K-1", "/account", "/users", "/nothing", "/history"])
def test_a_stranger_is_led_to_the_login_and_back(person: Person, address: str) -> None:
    answer = person().get(address)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/login?next=%2F")
    part = person().get(address, headers={"hx-request": "true"})
    assert (part.status_code, part.headers["hx-redirect"]) == (401, "/login")


@pytest.mark.parametrize(
    "address", ["/login", "/static/no", "/login/x", "/api/positions", "/static/halfbore.css"]
)
def test_a_stranger_is_told_nothing_of_the_plant(person: Person, address: str) -> None:
    answer = person().get(address)
    assert "Team plant" not in answer.text
    assert answer.status_code == {"/api/positions": 401, "/static/no": 404, "/login/x": 303}.get(address, 200)


def test_no_post_of_a_stranger_comes_in(person: Person) -> None:
    stranger = person()
    for path in ("/undo", "/api/undo", "/users", "/api/users", "/account", "/logout", "/documents"):
        assert stranger.post(path, json={}).status_code == 401, path
    assert stranger.get("/?token=x", headers={"authorization": "Bearer x"}).status_code == 303


def test_the_login_page_begins_a_new_session_and_logout_ends_it(person: Person) -> None:
    client = person()
    form = {"name": " ann ", "password": PASSWORD, "next": "/history?tag=K-1"}
    first = client.post("/login", data=form)
    assert (first.status_code, first.headers["location"]) == (303, "/history?tag=K-1")
    cookie = first.headers["set-cookie"]
    assert {"HttpOnly", "SameSite=strict", "Path=/"} <= {part.strip() for part in cookie.split(";")}
    assert "Secure" not in cookie
    page = client.get("/account")
    assert "Ann may edit, run, issue and manage users." in page.text
    old = client.cookies["halfbore_8484"]
    client.post("/login", data=form)
    new = client.cookies["halfbore_8484"]
    assert new != old
    csrf = page.text.partition('name="csrf" value="')[2].partition('"')[0]
    assert client.post("/logout", data={"csrf": csrf}).status_code == 403, "of the session before"
    client.cookies.set("halfbore_8484", old, domain="127.0.0.1")
    assert client.get("/account").status_code == 303
    other = person("Ann")
    assert other.post("/logout").headers["location"] == "/login"
    assert other.get("/account").status_code == 303


def test_behind_https_the_cookie_is_secure_and_the_origin_is_told_apart(person: Person) -> None:
    client = person(base=f"https://{NAME}")
    form = {"name": "Ann", "password": PASSWORD}
    assert client.post("/login", data=form, headers={"origin": f"http://{NAME}"}).status_code == 403
    assert client.post("/login", data=form, headers={"origin": "null"}).status_code == 403
    answer = client.post("/login", data=form, headers={"origin": f"https://{NAME}"})
    assert "Secure" in answer.headers["set-cookie"]


def test_a_wrong_login_tells_not_what_is_wrong(person: Person) -> None:
    wrong = [
        person().post("/login", data={"name": name, "password": "wrong"}) for name in ("Ann", "Nobody", "")
    ]
    assert {answer.status_code for answer in wrong} == {401}
    texts = {answer.text.replace('value="Ann"', "").replace('value="Nobody"', "") for answer in wrong[:2]}
    assert len(texts) == 1
    assert "name or password is wrong" in texts.pop()
    out = person().post("/login", data={"name": "Ann", "password": PASSWORD, "next": "//evil.example"})
    assert out.headers["location"] == "/"


def test_failed_logins_have_to_wait_longer_and_longer(team: Path) -> None:
    time = [0.0]
    with store.open(team) as workspace:
        logins = Logins(workspace, clock=lambda: time[0])
        for _ in range(users.FREE_TRIES + 1):
            with pytest.raises(LoginError, match="name or password is wrong"):
                logins.login("Ann", "wrong")
        with pytest.raises(WaitError, match="wait 1 s"):
            logins.login("ANN", PASSWORD)
        time[0] = 1.0
        with pytest.raises(LoginError, match="wrong"):
            logins.login("Ann", "wrong")
        with pytest.raises(WaitError, match="wait 2 s"):
            logins.login("Ann", PASSWORD)
        assert logins.login("Ed", PASSWORD), "another name need not wait"
        time[0] = 3.0
        assert logins.login("Ann", PASSWORD)
        with pytest.raises(LoginError, match="wrong"):
            logins.login("Ann", "wrong")


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a proof of a password take no time; which is right stays as it is."""
    monkeypatch.setattr(users, "_proved", lambda _known, password: password == PASSWORD)


def tried(logins: Logins, name: str, address: str, password: str = "wrong") -> str:
    """Return what came of a login: in, wrong, or which wait."""
    try:
        logins.login(name, password, address)
    except WaitError as error:
        return f"{error.problems[0].what}: {error.problems[0].next_step}"
    except LoginError:
        return "wrong"
    return "in"


@pytest.mark.usefixtures("quick")
def test_an_address_that_tries_many_names_has_to_wait(team: Path) -> None:
    time = [0.0]
    with store.open(team) as workspace:
        logins = Logins(workspace, clock=lambda: time[0])
        free = users.FREE_OF_AN_ADDRESS + 1
        assert {tried(logins, f"name {n}", "192.0.2.7") for n in range(free)} == {"wrong"}
        waits = "there were failed logins from this address: wait 1 s, then try again"
        assert tried(logins, "Ann", "192.0.2.7", PASSWORD) == waits
        assert tried(logins, "Ann", "::ffff:192.0.2.7", PASSWORD) == waits, (
            "the same address in other letters"
        )
        assert tried(logins, "Ann", "192.0.2.8", PASSWORD) == "in", "another address need not wait"
        time[0] = 1.0
        assert tried(logins, "one more", "192.0.2.7") == "wrong"
        assert "wait 2 s" in tried(logins, "and one", "192.0.2.7")
        for _ in range(20):
            time[0] += users.LONGEST_WAIT
            assert tried(logins, "another", "192.0.2.7") == "wrong"
        assert "wait 60 s" in tried(logins, "and one", "192.0.2.7"), "never longer"
        time[0] += users.FORGOTTEN + users.LONGEST_WAIT + 1
        assert {tried(logins, f"later {n}", "192.0.2.7") for n in range(free)} == {"wrong"}


@pytest.mark.usefixtures("quick")
def test_an_ipv6_network_counts_as_one_address(team: Path) -> None:
    with store.open(team) as workspace:
        logins = Logins(workspace, clock=lambda: 0.0)
        told = [tried(logins, f"name {n}", f"2001:db8::{n + 1:x}") for n in range(22)]
        assert told[:21] == ["wrong"] * 21
        assert "from this address" in told[21]
        assert tried(logins, "Ann", "2001:db8:0:1::1", PASSWORD) == "in"


@pytest.mark.usefixtures("quick")
def test_nobody_is_kept_out_by_what_others_do(team: Path) -> None:
    with store.open(team) as workspace:
        logins = Logins(workspace, clock=lambda: 0.0)
        assert tried(logins, "Ann", "192.0.2.7", PASSWORD) == "in"
        for n in range(40):
            tried(logins, "Ann", f"198.51.100.{n}")
            tried(logins, f"name {n}", "192.0.2.7")
        assert "of this name" in tried(logins, "Ann", "203.0.113.1", PASSWORD)
        assert "from this address" in tried(logins, "Ed", "192.0.2.7", PASSWORD)
        assert tried(logins, "Ann", "192.0.2.7", PASSWORD) == "in", "where Ann has come in before"
        told = [tried(logins, "Ann", "192.0.2.7") for _ in range(5)]
        assert told[:4] == ["wrong"] * 4
        assert "of this name" in told[4], "and guesses of her password from there wait all the same"


@pytest.mark.usefixtures("quick")
def test_few_are_remembered_however_many_come(team: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(users, "MOST_COUNTED", 50)
    with store.open(team) as workspace:
        logins = Logins(workspace, clock=lambda: 0.0)
        for n in range(200):
            tried(logins, f"name {n}", f"10.0.0.{n}")
            assert tried(logins, "Ann", f"10.1.0.{n}", PASSWORD) == "in"
        assert len(logins._failed) <= len(logins._came_in) == 50


def test_behind_a_proxy_the_address_is_what_the_proxy_has_put_down(person: Person) -> None:
    client, outside = person(base=f"https://{NAME}"), person()
    wrong = {"name": "x", "password": "wrong"}

    def statuses(of: TestClient, forwarded: str, count: int) -> list[int]:
        asked = [wrong | {"name": f"{forwarded} {n}"} for n in range(count)]
        return [
            of.post("/api/login", json=one, headers={"x-forwarded-for": forwarded}).status_code
            for one in asked
        ]

    assert statuses(client, "203.0.113.9, 192.0.2.7", 22)[-1] == 429
    assert statuses(client, "203.0.113.9, 192.0.2.8", 1) == [401]
    assert statuses(client, "192.0.2.9, 192.0.2.7", 1) == [429], (
        "what a browser adds in front changes nothing"
    )
    told = [statuses(outside, f"192.0.2.{n}", 1)[0] for n in range(100, 122)]
    assert told[-1] == 429, "without a proxy nothing is believed"


def test_a_session_ends_by_itself(team: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with store.open(team) as workspace:
        logins = Logins(workspace)
        holds = logins.login("Ann", PASSWORD)
        monkeypatch.setattr(users, "LASTS", -LASTS)
        over = logins.login("Ann", PASSWORD)
        assert logins.user(over) is None
        user = logins.user(holds)
        assert user is not None
        assert user.name == "Ann"
        change_password(workspace, "Ann", "another password")
        assert logins.user(holds) is None


def test_neither_passwords_nor_secrets_stand_in_the_file(team: Path) -> None:
    with store.open(team) as workspace:
        secret = Logins(workspace).login("Ann", PASSWORD)
        found = workspace.accounts.password_of("Ann")
    assert found is not None
    assert found[1].startswith("$argon2id$")
    held = b"".join(path.read_bytes() for path in team.parent.iterdir())
    assert PASSWORD.encode() not in held
    assert secret.encode() not in held


def test_who_may_only_see_changes_nothing(person: Person) -> None:
    client = person("Sue")
    assert client.get("/positions/K-1").status_code == 200
    before = client.get("/api/history").json()
    routes = all_routes(list(client.app.routes))  # type: ignore[attr-defined]
    refused = 0
    for route in routes:
        path = route.path
        for name, value in {"machine": "K", "line": "-", "tag": "K-1", "key": "x", "number": "1"}.items():
            path = path.replace(f"{{{name}}}", value)
        if "POST" in route.methods and path.removeprefix("/api") not in ("/login", "/logout", "/account"):
            answer = client.post(path, json={})
            assert answer.status_code == 403, path
            assert "your role allows to see only" in answer.text, path
            refused += 1
    assert refused > 25
    assert client.get("/users").status_code == client.get("/api/users").status_code == 403
    assert client.get("/api/history").json() == before


def test_who_edits_neither_issues_nor_manages(person: Person) -> None:
    client = person("Ed")
    assert note(client, "looked at") == 200
    assert client.get("/api/history").json()["changes"][0]["who"] == "Ed"
    issue = {"paper": "order sheet", "tag": "K-1"}
    assert client.post("/api/documents", json=issue).status_code == 403
    assert client.post("/documents", data=issue).status_code == 403
    new = {"do": "role", "name": "Ed", "role": "approve"}
    assert client.post("/api/users", json=new).status_code == 403
    assert person("Ann").post("/api/documents", json=issue).status_code != 403


@pytest.mark.parametrize(
    ("method", "path", "role"),
    [
        ("GET", "/documents", Role.SEE),
        ("POST", "/documents/cancel", Role.APPROVE),
        ("POST", "/api/document", Role.EDIT),
        ("POST", "/api/logout", Role.SEE),
        ("GET", "/api/users", Role.APPROVE),
        ("POST", "/nothing", Role.EDIT),
    ],
)
def test_the_role_that_a_request_needs(method: str, path: str, role: Role) -> None:
    assert needed(method, path) is role


def test_users_are_managed_in_the_page(person: Person) -> None:
    ann, ed = person("Ann"), person("Ed")
    add = {"do": "add", "name": "Cy", "role": "see", "password": "short"}
    assert "10 to 200 characters" in ann.post("/users", data=add).text
    assert ann.post("/users", data=add | {"password": PASSWORD}).status_code == 303
    assert ann.post("/users", data=add | {"password": PASSWORD}).status_code == 422, "taken"
    assert note(person("Cy"), "no") == 403
    assert ann.post("/users", data={"do": "role", "name": "Ed", "role": "see"}).status_code == 303
    assert note(ed, "no longer") == 403
    assert ann.post("/users", data={"do": "remove", "name": "Ed"}).status_code == 303
    assert ed.get("/").status_code == 303, "logged out"
    for last in ({"do": "role", "name": "Ann", "role": "see"}, {"do": "remove", "name": "ann"}, {"do": "x"}):
        assert ann.post("/users", data=last).status_code == 422
    assert "<td>Cy</td>" in ann.get("/users").text


def test_ones_own_password_is_changed_by_who_knows_it(person: Person) -> None:
    sue = person("Sue")
    assert sue.post("/account", data={"now": "wrong", "password": "a new password"}).status_code == 422
    assert sue.post("/account", data={"now": PASSWORD, "password": "a new password"}).status_code == 303
    assert sue.get("/").status_code == 303
    again = person().post("/login", data={"name": "Sue", "password": "a new password"})
    assert again.headers["location"] == "/"


def test_without_users_there_is_no_login(empty: TestClient) -> None:
    for path in ("/login", "/account", "/users", "/api/users"):
        assert empty.get(path).status_code == 404, path


def test_undo_takes_back_ones_own(person: Person) -> None:
    ann, ed = person("Ann"), person("Ed")
    assert note(ed, "by Ed") == 200
    new = {"tag": "", "path": "customer", "value": "by Ann"}
    made = ann.post("/api/document", json=new)
    assert made.status_code == 200, made.text
    number = made.json()["batch"]["id"]
    assert ed.post("/api/undo", json={"batch": number}).status_code == 403
    assert ed.post("/undo", data={"batch": str(number)}).status_code == 403
    done = ed.post("/api/undo", json={}).json()["batch"]
    assert done["who"] == "Ed"
    assert "taken back: edit, by Ed" in ed.get("/history").text
    assert ed.post("/api/undo", json={}).status_code == 409, "nothing of his own is left"
    other = note(ed, "by Ed again")
    assert other == 200
    mine = ed.get("/api/history").json()["changes"][0]["batch"]
    assert ann.post("/undo", data={"batch": str(mine)}).status_code == 303
    assert "taken back: edit, by Ann" in ann.get("/").text


def test_the_second_of_two_is_told_and_can_compare(person: Person) -> None:
    ann, ed = person("Ann"), person("Ed")
    seen = ann.get("/api/document?tag=K-1").json()["version"]
    assert note(ed, "by Ed", seen) == 200
    new = {"tag": "K-1", "path": "seat.note", "value": "by Ann", "version": seen}
    told = ann.post("/api/document", json=new)
    assert told.status_code == 409
    assert "was changed since by Ed" in told.text
    form = {"do": "keep", "path": "seat.note", "value": "by Ann", "at": at_text(AT), "version": str(seen)}
    page = ann.post("/positions/K-1", data=form)
    assert ann.get("/api/document?tag=K-1&path=seat.note").json()["value"] == "by Ed"
    assert page.status_code == 409
    assert "by Ed" in page.text
    assert "by Ann" in page.text
