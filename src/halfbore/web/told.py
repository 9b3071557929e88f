"""Values of the job of a shaft line, each from the document that decides: the line, its machine, or the plant."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from halfbore.domain.workspace import Address
from halfbore.numbers import Style
from halfbore.store import Workspace, paths
from halfbore.web.fields import Value, value_at


def told(workspace: Workspace, line: Address, path: str, style: Style) -> Value:
    """Return a value; what the plant says stands there too, and an edit of it goes to the machine.

    A value inside a list is edited where the list stands, since a list counts as a whole.
    """
    whose = home(workspace, line, path)
    value = value_at(whose, workspace.document(whose), path, style)
    if whose or "[" in path:
        return value
    own = value_at(line[:1], workspace.document(line[:1]), path, style)
    return replace(own, typed=value.typed, used=value.used, above="plant") if value.typed else own


def home(workspace: Workspace, line: Address, path: str) -> Address:
    """Return whose document says a value of a shaft line, the plant where none does."""
    named = path.partition("[")[0]
    homes = (line, line[:1])
    return next((at for at in homes if paths.get(workspace.document(at), named) is not None), ())


def all_told(workspace: Workspace, line: Address, wanted: Iterable[str], style: Style) -> list[Value]:
    """Return values of a shaft line."""
    return [told(workspace, line, path, style) for path in wanted]


def entries(workspace: Workspace, line: Address, path: str) -> list[str]:
    """Return the paths of the entries of a list of the job."""
    found = paths.get(workspace.document(home(workspace, line, path)), path)
    return [f"{path}[{label}]" for label in paths.labels(found)] if isinstance(found, list) else []
