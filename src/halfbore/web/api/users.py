"""Login and users as JSON, in the same shape as everything else."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Request, Response
from pydantic import BaseModel, Field

from halfbore.web.api.routes import WRONG
from halfbore.web.guard import CSRF_HEADER
from halfbore.web.page import AtDesk, guard_of
from halfbore.web.rooms.users import acting, changed, logins_of

router = APIRouter(
    prefix="/api",
    responses={
        **WRONG,
        401: {**WRONG[422], "description": "name or password is wrong"},
        429: {**WRONG[422], "description": "too soon after failed logins"},
    },
)
Text = Annotated[str, Field(max_length=200)]


class Login(BaseModel):
    """Who logs in."""

    name: Text
    password: Text


class UserChange(BaseModel):
    """What shall be done with a user."""

    do: Literal["add", "role", "password", "remove"]
    name: Text
    role: Text = ""
    password: Text = ""


@router.post("/login")
def login(request: Request, response: Response, who: Login) -> dict[str, Any]:
    """Begin a session: its cookie, and the header that each POST has to carry."""
    guard = guard_of(request)
    secret = logins_of(request).login(who.name, who.password, guard.address_of(request))
    guard.keep(request, response, secret)
    return {"header": CSRF_HEADER, "csrf": guard.csrf_for(secret)}


@router.post("/logout")
def logout(request: Request, response: Response) -> dict[str, Any]:
    """End the session."""
    logins_of(request).logout(guard_of(request).secret_of(request))
    guard_of(request).keep(request, response, "")
    return {"ended": True}


@router.get("/users")
def users(request: Request, desk: AtDesk) -> dict[str, Any]:
    """Return the users with their roles."""
    acting(request)
    found = desk.workspace.accounts.users()
    return {"users": [{"name": user.name, "role": user.role.value} for user in found]}


@router.post("/users")
def change(request: Request, desk: AtDesk, new: UserChange) -> dict[str, Any]:
    """Add or remove a user, or give one another role or password."""
    user = acting(request)
    changed(desk, user, new.do, {"name": new.name, "role": new.role, "password": new.password})
    return users(request, desk)
