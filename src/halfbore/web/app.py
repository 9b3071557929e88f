"""The application of one workspace: rooms, the same as JSON, and the files that pages need."""

from __future__ import annotations

import os
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from urllib.parse import urlencode

from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, RedirectResponse, Response

import halfbore
from halfbore.errors import HalfboreError, InputError, Problem
from halfbore.store import Place, StaleEditError, UndoError
from halfbore.web import page
from halfbore.web.api import intake as api_intake
from halfbore.web.api import routes as api
from halfbore.web.api import users as api_users
from halfbore.web.desk import Desk, UnknownError
from halfbore.web.files import files
from halfbore.web.guard import HEADERS, Guard, LoginNeededError, RefusedError, RoleError, TooLargeError
from halfbore.web.rooms import (
    adding,
    catalogues,
    changeover,
    changes,
    documents,
    importing,
    keys,
    machine,
    machine_live,
    order,
    plant,
    position,
    stop_cost,
    users,
    value,
    working,
)
from halfbore.workspace.users import LoginError, Logins

API, FILES = "/api/", "/static/"
MOST_PASSED_OVER = 400_000_000
"""Bytes of a request that is too large that are taken before the answer."""
DEBUG = "HALFBORE_DEBUG"
"""Set it to see where a fault of the program comes from."""


def create_app(
    workspace: Place, *, hosts: tuple[str, ...], who: str, token: str = "", https: tuple[str, ...] = ()
) -> FastAPI:
    """Return the application of a workspace: of its users where it has some, else of whoever has the token.

    hosts: names with port by which it may be called, the first one in its opening address; https: those of them that a
    proxy with TLS serves; who: in whose name edits are made where there are no users; token: of the opening address, a
    random one when not given. Raises WorkspaceError.
    """
    desk = Desk.at(workspace, who)
    logins = Logins(desk.workspace) if desk.workspace.accounts.users() else None
    secret = {"token": token} if token else {}

    @asynccontextmanager
    async def lifespan(_app: FastAPI) -> AsyncIterator[None]:
        yield
        desk.close()

    app = FastAPI(
        title="halfbore",
        version=halfbore.__version__,
        openapi_url=f"{API}openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=lifespan,
        dependencies=[Depends(_checked_change)],
    )
    app.state.desk = desk
    app.state.guard = Guard(hosts, https=https, logins=logins, **secret)
    app.middleware("http")(_guarded)
    for router in (
        plant.router,
        machine_live.router,
        adding.router,
        machine.router,
        position.router,
        working.router,
        order.router,
        changeover.router,
        value.router,
        documents.router,
        changes.router,
        importing.router,
        catalogues.router,
        stop_cost.router,
        keys.router,
        users.router,
        api.router,
        api_intake.router,
        api_users.router,
        files,
    ):
        app.include_router(router)
    for kind in (HalfboreError, HTTPException, RequestValidationError):
        app.exception_handler(kind)(_told)
    return app


async def _checked_change(request: Request) -> AsyncIterator[None]:
    """Refuse a change that no page of ours has sent; at the end close what a form has brought."""
    try:
        await request.app.state.guard.check_change(request)
        yield
    finally:
        await request.close()


async def _guarded(request: Request, answer: Callable[[Request], Awaitable[Response]]) -> Response:
    """Let in what may come in, and put on what goes out what a browser must know."""
    guard: Guard = request.app.state.guard
    try:
        guard.check(request)
        response = guard.opens(request)
        if response is None:
            await guard.check_session(request)
            response = page.chosen(request) or await answer(request)
    except LoginNeededError as error:
        response = _to_login(request) or _answer(request, error, error.status)
    except RefusedError as error:
        if isinstance(error, TooLargeError):
            await _passed_over(request)
        response = _answer(request, error, error.status)
    except Exception:
        if os.environ.get(DEBUG):
            raise
        response = _answer(request, _fault(), 500)
    response.headers.update(HEADERS)
    if not request.url.path.startswith(FILES):
        response.headers["Cache-Control"] = "no-store"
    return response


def _to_login(request: Request) -> Response | None:
    """Return the way to the login from a page that was asked for, and back to it; from nothing else."""
    if request.method != "GET" or request.url.path.startswith(API):
        return None
    asked = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    address = f"/login?{urlencode({'next': asked})}"
    if "hx-request" in request.headers:  # a part of a page; the login is a whole one
        return Response(status_code=401, headers={"HX-Redirect": "/login"})
    return RedirectResponse(address, 303)


async def _passed_over(request: Request) -> None:
    """Take what a browser sends and keep nothing of it: it reads an answer only when it has sent all."""
    passed = 0
    async for piece in request.stream():
        passed += len(piece)
        if passed > MOST_PASSED_OVER:
            return


def _fault() -> HalfboreError:
    return HalfboreError(
        Problem("a fault of the program", next_step="run the same on the command line to see more")
    )


async def _told(request: Request, error: Exception) -> Response:
    """Tell what went wrong, in one shape, as a page or as JSON."""
    return _answer(request, *_shaped(error))


def _shaped(error: Exception) -> tuple[HalfboreError, int]:
    if isinstance(error, RefusedError | UnknownError | LoginError):
        return error, error.status
    if isinstance(error, StaleEditError | UndoError):
        return error, 409
    if isinstance(error, InputError):
        return error, 422
    if isinstance(error, RequestValidationError):
        return InputError([_problem(one) for one in error.errors()]), 422
    if isinstance(error, HTTPException) and error.status_code == 400:
        return InputError(Problem("the request cannot be read")), 422
    if isinstance(error, HTTPException):
        return UnknownError(Problem("there is nothing at this address")), error.status_code
    return (error if isinstance(error, HalfboreError) else _fault()), 500


def _problem(one: dict[str, object]) -> Problem:
    where = one.get("loc", ())
    parts = [str(part) for part in where] if isinstance(where, tuple) else []
    return Problem(str(one.get("msg", "cannot be read")), ".".join(parts))


def _answer(request: Request, error: HalfboreError, status: int) -> Response:
    if request.url.path.startswith(API):
        return JSONResponse(error.as_dict(), status)
    stranger = request.app.state.guard.logins is not None and page.user_of(request) is None
    refused = isinstance(error, RefusedError) and not isinstance(error, RoleError)
    if refused or stranger or status >= 500:  # the frame of our pages tells of the plant
        text = page.environment().get_template("bare.html").render(error=error, status=status)
        return Response(text, status, media_type="text/html")
    return page.show(request, "error.html", page.Place(""), {"error": error, "status": status}, status)
