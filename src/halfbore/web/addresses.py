"""The addresses of pages: from tags to an address and back."""

from __future__ import annotations

from urllib.parse import quote, unquote, urlencode

from halfbore.domain.workspace import Address

ONLY = "-"
"""Stands for the shaft line without a tag."""


def machine_page(line: Address, **query: str) -> str:
    """Return the address of the machine room of a shaft line."""
    return f"/lines/{segment(line[0])}/{segment(line[1]) or ONLY}{_query(query)}"


def position_page(tag: str, **query: str) -> str:
    """Return the address of the position room."""
    return f"/positions/{segment(tag)}{_query(query)}"


def room_page(tag: str, room: str, **query: str) -> str:
    """Return the address of another room of a position: order, changeover, value."""
    return f"/positions/{segment(tag)}/{room}{_query(query)}"


def documents_page(position: str) -> str:
    """Return the address of the documents, those of a position alone where one is given."""
    return f"/documents{_query({'q': position})}"


def working_page(about: str | Address, name: str, **query: str) -> str:
    """Return the address of the working of a number.

    about: tag of a position, or a shaft line; empty for the plant; name: of the number, spaces as hyphens.
    """
    at = "" if not about else position_page(about) if isinstance(about, str) else machine_page(about)
    return f"{at}/working/{name.replace(' ', '-')}{_query(query)}"


def segment(tag: str) -> str:
    """Return a tag as one part of a path; what servers and browsers read into a path is quoted twice."""
    once = quote(tag, safe="")
    if tag and not tag.strip("."):
        once = once.replace(".", "%2E")
    return quote(once, safe="") if {*"/%\\"} & {*tag} or "." in tag[:1] else once


def tag_of(part: str) -> str:
    """Return the tag that a part of a path stands for."""
    return unquote(part)


def _query(given: dict[str, str]) -> str:
    kept = {name: value for name, value in given.items() if value}
    return f"?{urlencode(kept)}" if kept else ""
