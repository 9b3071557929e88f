"""Log in, log out, another password, and the users of the workspace."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from halfbore.domain.user import Role, User
from halfbore.errors import HalfboreError, InputError, Problem
from halfbore.web.desk import Desk, UnknownError
from halfbore.web.page import AtDesk, Form, Place, choice, environment, guard_of, ours, show, user_of
from halfbore.workspace.users import SHORTEST, LoginError, Logins, add_user, change_password, role_of

router = APIRouter(include_in_schema=False)


def logins_of(request: Request) -> Logins:
    """Return the door of the application. Raises UnknownError where it has no users."""
    found = guard_of(request).logins
    if found is None:
        step = "halfbore user add NAME --role approve, then start halfbore serve again"
        raise UnknownError(Problem("this workspace has no users", next_step=step))
    return found


def acting(request: Request) -> User:
    """Return who is logged in. Raises UnknownError where the workspace has no users."""
    logins_of(request)
    user = user_of(request)
    assert user is not None  # the guard lets nobody else in
    return user


@router.get("/login")
def door(request: Request, next: str = "/") -> Response:
    """Ask for name and password."""
    logins_of(request)
    return _door(request, ours(next))


def _door(request: Request, target: str, name: str = "", error: LoginError | None = None) -> Response:
    record = {"next": target, "name": name, "problems": error.problems if error else ()}
    text = environment().get_template("login.html").render(theme=choice(request, "theme"), **record)
    return HTMLResponse(text, error.status if error else 200)


@router.post("/login")
def login(request: Request, form: Form) -> Response:
    """Begin a session; an earlier one of this browser ends."""
    door, target = logins_of(request), ours(form.get("next", ""))
    try:
        secret = door.login(
            form.get("name", ""), form.get("password", ""), guard_of(request).address_of(request)
        )
    except LoginError as error:
        return _door(request, target, form.get("name", "")[:80], error)
    door.logout(guard_of(request).secret_of(request))
    answer = RedirectResponse(target, 303)
    guard_of(request).keep(request, answer, secret)
    return answer


@router.post("/logout")
def logout(request: Request) -> Response:
    """End the session."""
    logins_of(request).logout(guard_of(request).secret_of(request))
    return _out(request)


def _out(request: Request) -> Response:
    answer = RedirectResponse("/login", 303)
    guard_of(request).keep(request, answer, "")
    return answer


@router.get("/account")
def account(request: Request, desk: AtDesk) -> Response:
    """Show who one is; the users where one approves."""
    return _account(request, desk)


def _account(request: Request, desk: Desk, error: HalfboreError | None = None, status: int = 200) -> Response:
    record = {
        "users": desk.workspace.accounts.users() if acting(request).role is Role.APPROVE else (),
        "roles": tuple(Role),
        "shortest": SHORTEST,
        "problems": error.problems if error else (),
    }
    return show(request, "account.html", Place("account"), record, status)


@router.post("/account")
def own_password(request: Request, desk: AtDesk, form: Form) -> Response:
    """Change one's own password, which one has to know; all sessions end."""
    user = acting(request)
    try:
        address = guard_of(request).address_of(request)
        logins_of(request).prove(user.name, form.get("now", ""), address)
        change_password(desk.workspace, user.name, form.get("password", ""))
    except (InputError, LoginError) as error:
        return _account(request, desk, error, 422)
    return _out(request)


@router.get("/users")
def users(request: Request, desk: AtDesk) -> Response:
    """Show the users."""
    return _account(request, desk)


@router.post("/users")
def change(request: Request, desk: AtDesk, form: Form) -> Response:
    """Add or remove a user, or give one another role or password."""
    try:
        changed(desk, acting(request), form.get("do", ""), form)
    except InputError as error:
        return _account(request, desk, error, 422)
    return RedirectResponse("/users", 303)


def changed(desk: Desk, user: User, do: str, given: dict[str, str]) -> None:
    """Do one thing with a user. given: name, role, password. Raises InputError."""
    name, accounts = given.get("name", ""), desk.workspace.accounts
    if do == "add":
        add_user(desk.workspace, name, role_of(given.get("role", "")), given.get("password", ""))
    elif do == "role":
        accounts.give_role(name, role_of(given.get("role", "")))
    elif do == "password":
        change_password(desk.workspace, name, given.get("password", ""))
    elif do == "remove" and " ".join(name.split()).casefold() == user.name.casefold():
        raise InputError(
            Problem("nobody removes himself", "name", user.name, next_step="ask somebody who approves")
        )
    elif do == "remove":
        accounts.remove(name)
    else:
        raise InputError(
            Problem("is nothing that is done with a user", "do", do[:64], "add, role, password, remove")
        )
