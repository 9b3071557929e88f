"""What a machine kind stands for where the survey is silent: its arrangement, its parts, its bearings."""

from __future__ import annotations

from halfbore.domain.machine import Arrangement, MachineKind
from halfbore.errors import Problem
from halfbore.estimate.practice import WORDS
from halfbore.estimate.typed import Plain, Sheet, given, path_of

ARRANGEMENT = "machine.name_plate.arrangement"

USUAL = {
    MachineKind.HEAD_SHAFT: Arrangement.SHAFT_MOUNTED,
    MachineKind.ELEVATOR_HEAD: Arrangement.SHAFT_MOUNTED,
    MachineKind.PADDLE_SHAFT: Arrangement.SHAFT_MOUNTED,
    MachineKind.SCREW: Arrangement.SHAFT_MOUNTED,
    MachineKind.TAIL_DRUM: Arrangement.NOT_DRIVEN,
    MachineKind.ELEVATOR_BOOT: Arrangement.NOT_DRIVEN,
    MachineKind.JACKSHAFT: Arrangement.BELT,
    MachineKind.LINE_SHAFT: Arrangement.BELT,
}
"""The arrangement of most machines of a kind; a fan has none that is usual."""

_DRIVES = {
    Arrangement.CENTRE_HUNG_DIRECT: ("coupling", "coupling"),
    Arrangement.OVERHUNG_DIRECT: ("coupling", "coupling"),
    Arrangement.COUPLED: ("coupling", "coupling"),
    Arrangement.CENTRE_HUNG_BELT: ("sheave", "sheave"),
    Arrangement.OVERHUNG_BELT: ("sheave", "sheave"),
    Arrangement.BELT: ("sheave", "sheave"),
    Arrangement.SHAFT_MOUNTED: ("shaft-mounted drive", "gear unit"),
}
_BODIES = {
    MachineKind.FAN: ("fan wheel", "fan wheel"),
    MachineKind.HEAD_SHAFT: ("drum", "head drum"),
    MachineKind.TAIL_DRUM: ("drum", "tail drum"),
    MachineKind.ELEVATOR_HEAD: ("elevator drum", "head drum"),
    MachineKind.ELEVATOR_BOOT: ("elevator drum", "boot drum"),
    MachineKind.PADDLE_SHAFT: ("paddles", "paddles"),
    MachineKind.SCREW: ("screw flight", "screw"),
}
FANS = tuple(a for a in Arrangement if a.value.startswith(("centre-hung", "overhung")))
OVERHUNG = (Arrangement.OVERHUNG_DIRECT, Arrangement.OVERHUNG_BELT)


def framed(sheet: Sheet) -> None:
    """Fill in the arrangement, the parts and the positions of the machine kind where they are not given."""
    kind = sheet.kind
    if kind in USUAL and not given(sheet.plate, "arrangement") and not given(sheet.data, "loads"):
        why = f"usual for a machine of this kind ({kind})"
        sheet.say(sheet.plate, "machine.name_plate", "arrangement", USUAL[kind].value, why, WORDS)
    if not given(sheet.data, "positions"):
        _add_positions(sheet)
    if not given(sheet.data, "loads"):
        _add_parts(sheet)
    _fill_roles(sheet)


def asks_arrangement(sheet: Sheet) -> bool:
    """Note as a problem that a fan does not say where its wheel stands; whether that was so."""
    if sheet.arrangement is not None or given(sheet.plate, "arrangement"):
        return False
    sheet.problems.append(
        Problem(
            "how the fan is built is not said, and the place of its wheel is not given",
            ARRANGEMENT,
            accepted=", ".join(FANS),
            next_step="look at the machine: the wheel hangs between the bearings, or outside them",
        )
    )
    return True


def _add_positions(sheet: Sheet) -> None:
    if sheet.kind in (MachineKind.LINE_SHAFT, MachineKind.PLAIN_SHAFT):
        sheet.problems.append(
            Problem(
                f"how many bearings a {sheet.kind} has is not to be told from its plate",
                "positions",
                next_step="name each bearing from the drive end; its place may be left out",
            )
        )
        return
    name = str(sheet.machine.get("name") or "")
    names = [f"{name}-{letter}" if name else letter for letter in "AB"]
    why = "no position is given: two bearings, as usual for the machine kind"
    sheet.add("positions", [{"name": n} for n in names], why, WORDS)


def _add_parts(sheet: Sheet) -> None:
    kind, arrangement = sheet.kind, sheet.arrangement
    if kind is MachineKind.FAN and arrangement is None:
        asks_arrangement(sheet)
        return
    if kind is None or kind is MachineKind.PLAIN_SHAFT:
        return
    parts = _sheaves(sheet) if kind in (MachineKind.JACKSHAFT, MachineKind.LINE_SHAFT) else _driven(sheet)
    why = f"no part is given: those of a machine of this kind ({kind}), {arrangement}"
    if parts:
        sheet.add("loads", parts, why, WORDS)


def _driven(sheet: Sheet) -> list[Plain]:
    assert sheet.kind is not None
    drive = _DRIVES.get(sheet.arrangement) if sheet.arrangement else None
    kinds = [*([drive] if drive else []), _BODIES[sheet.kind]]
    parts: list[Plain] = [{"kind": kind, "name": name} for kind, name in kinds]
    if sheet.kind is MachineKind.ELEVATOR_BOOT:
        parts[-1]["place"] = "boot"
    return parts


def _sheaves(sheet: Sheet) -> list[Plain]:
    count = 2 if sheet.kind is MachineKind.JACKSHAFT else len(sheet.entries("positions")) - 1
    return [{"kind": "sheave", "name": f"sheave {i + 1}"} for i in range(count)]


def _fill_roles(sheet: Sheet) -> None:
    """Say which position locates where that is not given: the first, unless something else does."""
    positions = sheet.entries("positions")
    held = bool(sheet.machine.get("locates")) or any(p.get("role") == "locating" for p in positions)
    for i, position in enumerate(positions):
        if given(position, "role"):
            continue
        role = "non-locating" if held else "locating"
        why = "the shaft is held elsewhere" if held else "nothing else is said to hold the shaft"
        sheet.say(position, path_of("positions", position, i), "role", role, why, WORDS)
        held = True
