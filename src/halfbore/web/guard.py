"""Who may come in, and what a browser may do with what goes out.

Every page that is open in a browser may send requests to the application, wherever it listens. So each request, also
one that only reads, must name this host, come from no other origin, and carry a session; what changes anything is a
POST that carries a second secret. Where the workspace has no users there is one session, which the opening address with
its token gives; where it has, each login begins one, and the role of the user says what it may do.
"""

from __future__ import annotations

import hmac
import secrets
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from hashlib import sha256
from urllib.parse import urlencode

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from halfbore import limits
from halfbore.domain.user import Role, User
from halfbore.errors import HalfboreError, Problem
from halfbore.workspace.users import Logins

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
LOGIN = ("/login", "/api/login")
"""What is given out where nobody is logged in yet, beside the files of pages."""
OWN = ("/logout", "/account")
"""What each user may change, whatever the role."""
APPROVED = ("/documents", "/users")
"""What only those may change who approve."""
Next = Callable[[Request], Awaitable[Response]]


class RefusedError(HalfboreError):
    """A request that may not come in."""

    kind = "refused"
    status = 403


class LoginNeededError(RefusedError):
    """A request of somebody who is not logged in, or no longer."""

    status = 401


class RoleError(RefusedError):
    """A request that the role of the user does not allow."""


class TooLargeError(RefusedError):
    """A request with more bytes than are taken."""

    status = 413


async def read_form(request: Request) -> FormData:
    """Return the form of a request, read once."""
    return await request.form(max_fields=MOST_FIELDS, max_files=MOST_FILES)


@dataclass(frozen=True)
class Guard:
    """The secrets of one run of the server, the hosts by which it may be called, those of them by https; the logins
    where the workspace has users."""

    hosts: tuple[str, ...]
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24), repr=False)
    session: str = field(default_factory=lambda: secrets.token_urlsafe(24), repr=False)
    https: tuple[str, ...] = ()
    logins: Logins | None = None

    @property
    def cookie(self) -> str:
        """Name of the session's cookie; cookies know no ports, so two servers on a machine need two names."""
        port = self.hosts[0].rpartition(":")[2]
        return f"halfbore_{port if port.isdigit() else 'session'}"

    @property
    def csrf(self) -> str:
        """What a form of our own pages carries where there are no users."""
        return self.csrf_for(self.session)

    def csrf_of(self, request: Request) -> str:
        """Return what a form of the session of a request carries; nothing where there is none."""
        if not self.logins:
            return self.csrf
        return self.csrf_for(self.secret_of(request)) if getattr(request.state, "user", None) else ""

    def csrf_for(self, session: str) -> str:
        """Return what a form of a session carries."""
        return hmac.new(session.encode(errors="surrogatepass"), b"csrf", sha256).hexdigest()

    def secret_of(self, request: Request) -> str:
        """Return the secret of the session that a request names, whether it holds or not."""
        return request.cookies.get(self.cookie, "")

    def address_of(self, request: Request) -> str:
        """Return from which address a request comes; behind the proxy the last one that it has put down, its own peer."""
        if request.headers.get("host", "") in self.https:
            told = request.headers.getlist("x-forwarded-for")
            if told:
                return told[-1].rpartition(",")[2].strip()
        return request.client.host if request.client else ""

    def opening(self) -> str:
        """Return the address by which a session is begun."""
        address = f"{self._scheme(self.hosts[0])}://{self.hosts[0]}/"
        return address if self.logins else f"{address}?{TOKEN}={self.token}"

    def keep(self, request: Request, answer: Response, secret: str) -> None:
        """Put the secret of a new session into an answer, or take it away with an empty one."""
        secure = request.headers.get("host", "") in self.https
        age = None if secret else 0
        answer.set_cookie(
            self.cookie, secret, max_age=age, httponly=True, samesite="strict", secure=secure, path="/"
        )

    def check(self, request: Request) -> None:
        """Raise RefusedError for a request that may not come in, whatever it asks for."""
        if request.headers.get("host", "") not in self.hosts:
            raise _refused("another host is named", "Host", f"open {self._origins()[0]}")
        origin = request.headers.get("origin")
        if origin is not None and origin not in self._origins():
            raise _refused("the request comes from another page", "Origin")
        if request.method not in METHODS:
            problem = Problem("is no method that is answered", "method", request.method, ", ".join(METHODS))
            raise RefusedError(problem)
        if request.method == "POST":
            _refuse_large(request)

    async def check_session(self, request: Request) -> None:
        """Raise RefusedError for a request without a session, and for what the user may not do."""
        if self.logins:
            request.state.user = await run_in_threadpool(self.logins.user, self.secret_of(request))
            if request.url.path not in LOGIN and not request.url.path.startswith("/static/"):
                _check_user(request, request.state.user)
        elif not self._bearer(request) and not _same(self.secret_of(request), self.session):
            step = "use the address that halfbore serve has printed"
            raise _refused("the session is missing or of an earlier run", "session", step)

    async def check_change(self, request: Request) -> None:
        """Raise RefusedError for a POST that no page of ours has sent; a bearer of the token needs no page."""
        if request.method != "POST" or self._bearer(request):
            return
        if self.logins and request.url.path in LOGIN:
            return  # nobody has a secret yet; a browser always says from which page a POST comes
        given = request.headers.get(CSRF_HEADER, "")
        if not given and "form" in request.headers.get("content-type", ""):
            given = str((await read_form(request)).get(CSRF_FIELD, ""))
        if not _same(given, self.csrf_of(request)):
            raise _refused("the form is not from this session", CSRF_FIELD, "load the page again")

    def opens(self, request: Request) -> Response | None:
        """Return the answer to an opening address: the session, and the same address without the token."""
        given = request.query_params.get(TOKEN)
        if self.logins or given is None or request.method != "GET" or not _same(given, self.token):
            return None
        rest = [(name, value) for name, value in request.query_params.multi_items() if name != TOKEN]
        target = request.url.path.lstrip("/")
        answer = RedirectResponse(f"/{target}{'?' + urlencode(rest) if rest else ''}", 303)
        answer.set_cookie(self.cookie, self.session, httponly=True, samesite="lax", path="/")
        return answer

    def _origins(self) -> tuple[str, ...]:
        return tuple(f"{self._scheme(host)}://{host}" for host in self.hosts)

    def _scheme(self, host: str) -> str:
        return "https" if host in self.https else "http"

    def _bearer(self, request: Request) -> bool:
        if self.logins:
            return False
        scheme, _, given = request.headers.get("authorization", "").partition(" ")
        return scheme.casefold() == "bearer" and _same(given.strip(), self.token)


def needed(method: str, path: str) -> Role:
    """Return the role that a request needs, as a page and as JSON alike."""
    path = path.removeprefix("/api")
    if _under(path, ("/users",)):
        return Role.APPROVE
    if method != "POST" or _under(path, OWN):
        return Role.SEE
    return Role.APPROVE if _under(path, APPROVED) else Role.EDIT


def _under(path: str, roots: tuple[str, ...]) -> bool:
    return any(path == root or path.startswith(f"{root}/") for root in roots)


def _check_user(request: Request, user: User | None) -> None:
    if user is None:
        raise LoginNeededError(Problem("nobody is logged in, or no longer", "session", next_step="log in"))
    role = needed(request.method, request.url.path)
    if not user.role.may(role):
        step = f"ask somebody who may {role}"
        raise RoleError(Problem(f"your role allows to {user.role} only", "role", next_step=step))


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
    return bool(secret) and hmac.compare_digest(given.encode(errors="surrogatepass"), secret.encode())


def _refused(what: str, where: str, step: str = "") -> RefusedError:
    return RefusedError(Problem(what, where, next_step=step))
