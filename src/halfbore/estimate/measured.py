"""Put a measured value into a job as it was typed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from copy import deepcopy
from typing import Any

_STEP = re.compile(r"(\w+)(?:\[([^\]]*)\])?")


def measured(frame: Mapping[str, Any], path: str, value: object) -> dict[str, Any]:
    """Return plain data of a job with one value put in.

    frame: plain data of a job; path: dotted, list entries by name or number, such as loads[gear unit].mass.
    Tables and entries that are not there yet are made.
    """
    data = deepcopy(dict(frame))
    here: Any = data
    *steps, (last, _) = _STEP.findall(path)
    for name, entry in steps:
        here = _entry(here, name, entry) if entry else _table(here, name)
    here[last] = value
    return data


def _table(here: dict[str, Any], name: str) -> Any:
    return here.setdefault(name, {})


def _entry(here: dict[str, Any], name: str, entry: str) -> Any:
    found = here.setdefault(name, [])
    if isinstance(found, dict):
        return found
    named = [e for e in found if isinstance(e, dict) and e.get("name") == entry]
    if named:
        return named[0]
    if entry.isdigit() and int(entry) < len(found):
        return found[int(entry)]
    found.append({} if entry.isdigit() else {"name": entry})
    return found[-1]
