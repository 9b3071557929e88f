"""On whose behalf something is done."""

from __future__ import annotations

import getpass


def name_of(who: str) -> str:
    """Return who is named in the history: as given, else the login."""
    if who:
        return who
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "unknown"
