"""The two invented catalogues, read through the same mapping reader as anybody's."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib.resources import files
from pathlib import Path
from types import ModuleType

from halfbore.catalogue.admit import admitted
from halfbore.demo import quernvold, tolvarden
from halfbore.domain.catalogue import Catalogue
from halfbore.errors import InputError, Problem
from halfbore.intake.catalogue import read_catalogue, read_units
from halfbore.intake.mapping import read_mapping_text
from halfbore.intake.tables import Sheet

DEMO = "demo:"
SUPPLIERS: dict[str, ModuleType] = {"first": quernvold, "second": tolvarden}
"""Names after `demo:` → who makes that catalogue."""


def load_catalogue(reference: str, folder: Path) -> Catalogue:
    """Return a catalogue by the reference that a job names.

    reference: `demo:first`, `demo:second`, or the path of a mapping file, from the folder unless it is absolute.
    Raises InputError when there is none, or when it does not hold together.
    """
    if reference.startswith(DEMO):
        return load(reference.removeprefix(DEMO))
    reading = read_catalogue(folder / reference)
    return admitted(reading.catalogue, reading.place)


@cache
def load(name: str) -> Catalogue:
    """Return a demo catalogue.

    name: first (Quernvold Split Units) or second (Tolvarden Rollerworks). Raises InputError for another name.
    """
    if name not in SUPPLIERS:
        accepted = ", ".join(DEMO + known for known in SUPPLIERS)
        step = "or name the path of a mapping file"
        raise InputError(
            Problem("there is no such demo catalogue", "catalogues", DEMO + name, accepted, step)
        )
    supplier = SUPPLIERS[name]
    mapping = read_mapping_text(mapping_text(supplier))
    sheet = Sheet(mapping.layout.file, tuple(supplier.rows(supplier.columns())))
    reading = read_units(mapping, sheet)
    return admitted(reading.catalogue, reading.place)


def mapping_text(supplier: ModuleType) -> str:
    """Return the mapping file of a demo supplier."""
    return files("halfbore.demo").joinpath(f"{_name(supplier)}.toml").read_text(encoding="utf-8")


def write_catalogues(folder: Path) -> tuple[Path, ...]:
    """Write both catalogues as their suppliers would send them, each with its mapping file.

    folder: is there. Returns the mapping files.
    """
    text = io.StringIO(newline="")
    csv.writer(text).writerows(quernvold.rows(quernvold.columns()))
    (folder / "quernvold.csv").write_text(text.getvalue(), encoding="utf-8", newline="")
    tolvarden.write_xlsx(folder / "tolvarden.xlsx")
    mappings = []
    for supplier in SUPPLIERS.values():
        mappings.append(folder / f"{_name(supplier)}.toml")
        mappings[-1].write_text(mapping_text(supplier), encoding="utf-8")
    return tuple(mappings)


def _name(supplier: ModuleType) -> str:
    return supplier.__name__.rpartition(".")[2]
