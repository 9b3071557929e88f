"""Who may come in, and what a browser may do with what goes out.

The application listens on this machine alone, but every page that is open in a browser may send requests to it. So
each request, also one that only reads, must name this host, come from no other origin, and carry the session that the
opening address with its token has given; what changes anything is a POST that carries a second secret.
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from hashlib import sha256
from urllib.parse import urlencode

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from halfbore import limits
from halfbore.errors import HalfboreError, Problem

TOKEN = "token"
CSRF_FIELD, CSRF_HEADER = "csrf", "x-csrf-token"
LARGEST = 1_000_000
"""Bytes of a request."""
UPLOADS = ("/import", "/catalogues", "/api/import")
LARGEST_UPLOAD = limits.FILE_SIZE + LARGEST
"""Bytes of a request that brings a file."""
MOST_FIELDS, MOST_FILES = 6000, limits.TABLES + 2
"""Fields and files of a form."""
METHODS = ("GET", "HEAD", "POST")
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Frame-Options": "DENY",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",  # none at all would take the Origin off a form that this page sends
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
Next = Callable[[Request], Awaitable[Response]]


class RefusedError(HalfboreError):
    """A request that may not come in."""

    kind = "refused"
    status = 403


class TooLargeError(RefusedError):
    """A request with more bytes than are taken."""

    status = 413


async def read_form(request: Request) -> FormData:
    """Return the form of a request, read once."""
    return await request.form(max_fields=MOST_FIELDS, max_files=MOST_FILES)


@dataclass(frozen=True)
class Guard:
    """The secrets of one run of the server, and the hosts by which it may be called."""

    hosts: tuple[str, ...]
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24), repr=False)
    session: str = field(default_factory=lambda: secrets.token_urlsafe(24), repr=False)

    @property
    def cookie(self) -> str:
        """Name of the session's cookie; cookies know no ports, so two servers on a machine need two names."""
        port = self.hosts[0].rpartition(":")[2]
        return f"halfbore_{port if port.isdigit() else 'session'}"

    @property
    def csrf(self) -> str:
        """What a form of our own pages carries."""
        return hmac.new(self.session.encode(), b"csrf", sha256).hexdigest()

    def opening(self) -> str:
        """Return the address by which a session is begun."""
        return f"http://{self.hosts[0]}/?{TOKEN}={self.token}"

    def check(self, request: Request) -> None:
        """Raise RefusedError for a request that may not come in, whatever it asks for."""
        if request.headers.get("host", "") not in self.hosts:
            raise _refused("another host is named", "Host", f"open http://{self.hosts[0]}")
        origin = request.headers.get("origin")
        if origin is not None and origin not in self._origins():
            raise _refused("the request comes from another page", "Origin")
        if request.method not in METHODS:
            problem = Problem("is no method that is answered", "method", request.method, ", ".join(METHODS))
            raise RefusedError(problem)
        if request.method == "POST":
            _refuse_large(request)

    def check_session(self, request: Request) -> None:
        """Raise RefusedError for a request without the session."""
        if not self._bearer(request) and not _same(request.cookies.get(self.cookie, ""), self.session):
            step = "use the address that halfbore serve has printed"
            raise _refused("the session is missing or of an earlier run", "session", step)

    async def check_change(self, request: Request) -> None:
        """Raise RefusedError for a POST that no page of ours has sent; a bearer of the token needs no page."""
        if request.method != "POST" or self._bearer(request):
            return
        given = request.headers.get(CSRF_HEADER, "")
        if not given and "form" in request.headers.get("content-type", ""):
            given = str((await read_form(request)).get(CSRF_FIELD, ""))
        if not _same(given, self.csrf):
            raise _refused("the form is not from this session", CSRF_FIELD, "load the page again")

    def opens(self, request: Request) -> Response | None:
        """Return the answer to an opening address: the session, and the same address without the token."""
        given = request.query_params.get(TOKEN)
        if given is None or request.method != "GET" or not _same(given, self.token):
            return None
        rest = [(name, value) for name, value in request.query_params.multi_items() if name != TOKEN]
        target = request.url.path.lstrip("/")
        answer = RedirectResponse(f"/{target}{'?' + urlencode(rest) if rest else ''}", 303)
        answer.set_cookie(self.cookie, self.session, httponly=True, samesite="lax", path="/")
        return answer

    def _origins(self) -> tuple[str, ...]:
        return tuple(f"http://{host}" for host in self.hosts)

    def _bearer(self, request: Request) -> bool:
        scheme, _, given = request.headers.get("authorization", "").partition(" ")
        return scheme.casefold() == "bearer" and _same(given.strip(), self.token)


def _refuse_large(request: Request) -> None:
    size = request.headers.get("content-length", "")
    most = LARGEST_UPLOAD if request.url.path.startswith(UPLOADS) else LARGEST
    if not size.isdigit():
        raise RefusedError(Problem("comes without its length", "request", accepted="a Content-Length"))
    if int(size) > most:
        files = most == LARGEST_UPLOAD
        accepted = f"files up to {limits.FILE_SIZE / 1e6:.0f} MB" if files else f"up to {most / 1e6:.0f} MB"
        step = "leave out pictures and sheets that are not needed" if files else ""
        raise TooLargeError(Problem("is too large", "request", f"{int(size) / 1e6:.1f} MB", accepted, step))


def _same(given: str, secret: str) -> bool:
    return hmac.compare_digest(given.encode(), secret.encode())


def _refused(what: str, where: str, step: str = "") -> RefusedError:
    return RefusedError(Problem(what, where, next_step=step))
