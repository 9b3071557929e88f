"""The files of pages: style and script of our own, htmx and the font out of the packages that carry them."""

from __future__ import annotations

from pathlib import Path

import django_htmx
from fastapi import APIRouter
from starlette.responses import FileResponse

from halfbore.errors import Problem
from halfbore.present.metrics import FONTS
from halfbore.web.desk import UnknownError

OURS = Path(__file__).parent / "static"
HTMX = Path(django_htmx.__file__).parent / "static" / "django_htmx" / "htmx-2.min.js"
FACES = ("Light", "Regular", "It", "Semibold", "Bold")
KNOWN = {
    "halfbore.css": (OURS / "halfbore.css", "text/css"),
    "intake.css": (OURS / "intake.css", "text/css"),
    "halfbore.js": (OURS / "halfbore.js", "text/javascript"),
    "drawing.js": (OURS / "drawing.js", "text/javascript"),
    "mark.svg": (OURS / "mark.svg", "image/svg+xml"),
    "htmx.js": (HTMX, "text/javascript"),
    **{f"{face}.ttf": (FONTS / f"SourceSansPro-{face}.ttf", "font/ttf") for face in FACES},
}
"""Every file that is given out, by name: no path from outside reaches the file system."""

files = APIRouter(include_in_schema=False)


@files.get("/static/{name}")
def file(name: str) -> FileResponse:
    """Return a file. Raises UnknownError."""
    if name not in KNOWN:
        raise UnknownError(Problem("there is no such file", "address", name[:64]))
    path, kind = KNOWN[name]
    return FileResponse(path, media_type=kind, headers={"Cache-Control": "private, max-age=3600"})
