"""The keys of every page, in one table: the list of keys shows it, and the script in the page acts by it."""

from __future__ import annotations

from halfbore.domain.workspace import Address
from halfbore.web.addresses import documents_page, machine_page, position_page, room_page

ROOM_KEYS = {
    "plant": "p",
    "machine": "m",
    "position": "b",
    "order": "o",
    "changeover": "c",
    "value": "v",
    "documents": "d",
    "catalogues": "a",
    "import": "i",
    "history": "h",
}
"""Rooms in the order of the job, and the letter after G that leads there."""
KEYS = {
    "Everywhere": (
        ("?", "this list"),
        ("Esc", "back: closes what is opened, leaves a value as it was"),
        ("Tab", "the next link, button or field; Enter opens or presses it"),
        ("/", "search or filter"),
    ),
    "Tables": (
        ("J", "next row; with the arrow keys a wide table moves sideways"),
        ("K", "row before"),
        ("F2", "edit the value under the keys, or the first one of the row"),
        ("N", "add a part, a position, a stretch, a condition"),
    ),
    "A value being edited": (
        ("Enter", "keep it"),
        ("Esc", "leave it as it was"),
    ),
    "Shaft line": (
        ("← →", "move the part or bearing under the keys by 1 mm"),
        ("Shift ← →", "by 10 mm"),
        ("Enter", "type the new place for you; Enter again keeps it"),
        ("S", "run the shaft line for hours and money"),
    ),
    "Checks": (("W", "working of the check that decides; of another one by Enter on its name"),),
}
"""Keys by where they serve, each with what it does."""


def rooms_at(line: Address, position: str) -> list[tuple[str, str]]:
    """Return the rooms that can be gone to from a place in the plant, with their addresses."""
    found = [("plant", "/")]
    if line:
        found.append(("machine", machine_page(line)))
    if position:
        found.append(("position", position_page(position)))
        found += [(room, room_page(position, room)) for room in ("order", "changeover", "value")]
    found.append(("documents", documents_page(position)))
    return found + [(room, f"/{room}") for room in ("catalogues", "import", "history")]
