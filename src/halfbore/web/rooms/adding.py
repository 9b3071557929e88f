"""A machine is added by hand, and a machine, a shaft line or a position is taken out; undo brings it back."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfbore.domain.machine import MachineKind
from halfbore.domain.survey import Thing
from halfbore.domain.workspace import Edit
from halfbore.errors import HalfboreError, InputError, Problem
from halfbore.intake.check import leaf
from halfbore.web.addresses import machine_page
from halfbore.web.fields import Value, address_of, value_at
from halfbore.web.page import AtDesk, Form, Place, show, style_of
from halfbore.workspace.new_machine import add_machine

router = APIRouter(include_in_schema=False)
KIND = "machine.kind"
PLATE = tuple(f"machine.name_plate.{name}" for name in ("power", "motor_speed", "ratio", "arrangement"))
KINDS = {
    MachineKind.FAN: "a wheel between two bearings or outside them, driven by coupling or belt",
    MachineKind.HEAD_SHAFT: "the driven drum of a belt conveyor with its gear unit",
    MachineKind.TAIL_DRUM: "the drum at the other end, often in a take-up",
    MachineKind.ELEVATOR_HEAD: "the upper shaft of a bucket elevator with its gear unit and holdback",
    MachineKind.ELEVATOR_BOOT: "the lower shaft of a bucket elevator",
    MachineKind.PADDLE_SHAFT: "a mixer or hydrator with arms in a bed of material",
    MachineKind.SCREW: "a screw conveyor, level or inclined",
    MachineKind.JACKSHAFT: "belts or chains at both ends",
    MachineKind.LINE_SHAFT: "a long shaft that drives several machines",
    MachineKind.PLAIN_SHAFT: "any other: what sits on it is told part by part",
}
"""Kinds of machines in a few words (common practice, no source)."""


@dataclass(frozen=True)
class Asked:
    """A field of the form: its name there, the value behind it, what was typed."""

    value: Value
    typed: str


@router.get("/machines/new")
def ask(request: Request) -> Response:
    """Show what is asked of a new machine."""
    return _page(request, {}, None)


def _page(request: Request, form: Form, error: HalfboreError | None) -> Response:
    style = style_of(request).style
    plate = [Asked(value_at(("",), {}, path, style), form.get(path, "")) for path in PLATE]
    wrong: dict[str, list[Problem]] = {}
    for problem in error.problems if error else ():
        wrong.setdefault(problem.where, []).append(problem)
    record = {
        "kinds": KINDS,
        "plate": plate,
        "form": form,
        "error": error,
        "wrong": wrong,
        "tag_help": leaf(Thing.MACHINE, "machine.name").meta.help,
    }
    return show(request, "new_machine.html", Place("plant"), record, 422 if error else 200)


@router.post("/machines/new")
def add(request: Request, desk: AtDesk, form: Form) -> Response:
    """Add a machine, and go to it."""
    values = {path: form.get(path, "") for path in (KIND, *PLATE)}
    texts = {name: form.get(name, "") for name in ("line", "positions")}
    try:
        line = add_machine(desk.workspace, form.get("tag", ""), values, desk.who, **texts)
    except InputError as error:
        return _page(request, form, error)
    return RedirectResponse(machine_page(line), 303)


@router.post("/remove")
def remove(desk: AtDesk, form: Form) -> Response:
    """Take a machine, a shaft line or a position out of the plant. Raises InputError where it is not there."""
    at = address_of(form.get("at", ""))
    if not at or at not in desk.workspace.contents(at[:1]):
        raise InputError(Problem("is not there any more", "address", form.get("at", "")[:200]))
    desk.workspace.apply([Edit(at, "", None)], desk.who, "remove")
    lines = [line.address for m in desk.overview.machines() if m.tag == at[0] for line in m.lines]
    left = at[:2] if at[:2] in lines else lines[0] if lines else ()
    return RedirectResponse(machine_page(left) if left else "/", 303)
