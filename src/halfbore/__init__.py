"""From survey to proof: split roller bearing units for trapped positions.

The public API: what stands in `__all__`, loaded when it is first asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from halfbore.calc import calculate
    from halfbore.demo.suppliers import load_catalogue
    from halfbore.documents.proposal import write_proposal
    from halfbore.errors import HalfboreError, InputError
    from halfbore.intake.explain import explained
    from halfbore.intake.jobfile import read_job
    from halfbore.narrowing import run_study, what_to_measure

    __version__: str

__all__ = [
    "HalfboreError",
    "InputError",
    "__version__",
    "calculate",
    "explained",
    "load_catalogue",
    "read_job",
    "run_study",
    "what_to_measure",
    "write_proposal",
]

_HOMES = {
    "HalfboreError": "errors:HalfboreError",
    "InputError": "errors:InputError",
    "calculate": "calc:calculate",
    "explained": "intake.explain:explained",
    "load_catalogue": "demo.suppliers:load_catalogue",
    "read_job": "intake.jobfile:read_job",
    "run_study": "narrowing:run_study",
    "what_to_measure": "narrowing:what_to_measure",
    "write_proposal": "documents.proposal:write_proposal",
}
"""Public name → module below this one and name there."""


def __getattr__(name: str) -> Any:
    if name == "__version__":
        from importlib.metadata import version

        return version("halfbore")
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, _, there = _HOMES[name].partition(":")
    return getattr(import_module(f"{__name__}.{module}"), there)


def __dir__() -> list[str]:
    return sorted(__all__)
