"""The three ways of a changeover as work in order, put together from the tasks that the situation calls for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from halfbore.changeover import fan_tasks as fan
from halfbore.changeover import head_shaft_tasks as head
from halfbore.changeover import plain_shaft_tasks as plain
from halfbore.changeover import shared_tasks as shared
from halfbore.changeover.seat_branches import SeatState
from halfbore.changeover.sequence import Step, Work, beside, in_order
from halfbore.changeover.site import stretched
from halfbore.changeover.situation import BaseHeight, Beginning, Situation, Trap
from halfbore.domain.plan import Task, Way


@dataclass(frozen=True)
class _Part:
    """How a part that traps the bearing comes off and goes back."""

    off: tuple[Task, ...]
    on: tuple[Task, ...]
    align: tuple[Task, ...] = ()


_PARTS = {
    Trap.COUPLING: _Part((fan.PULL_HUB,), (fan.REFIT_HUB,), (fan.ALIGN_COUPLING,)),
    Trap.WHEEL: _Part((fan.PULL_WHEEL,), (fan.REFIT_WHEEL,)),
    Trap.DRIVE: _Part((head.SLING_DRIVE, head.PULL_DRIVE), (head.REFIT_DRIVE,), (head.SET_ARM,)),
    Trap.SHEAVE: _Part((plain.PULL_SHEAVE,), (plain.REFIT_SHEAVE,), (plain.ALIGN_SHEAVES,)),
    Trap.NEXT_BEARING: _Part((plain.FREE_NEXT,), (plain.CLOSE_NEXT,)),
    Trap.OTHER: _Part((plain.PULL_PART,), (plain.REFIT_PART,)),
    Trap.DRUM: _Part((plain.PULL_PART,), (plain.REFIT_PART,)),
    Trap.PADDLES: _Part((plain.PULL_PART,), (plain.REFIT_PART,)),
    Trap.FLIGHT: _Part((plain.PULL_PART,), (plain.REFIT_PART,)),
}

NAMES = (
    *(*shared.NAMES, *fan.NAMES, *head.NAMES, *plain.NAMES, shared.SEAT),
    *(plain.OPEN_OTHER.name, plain.CLOSE_OTHER.name, plain.HOLD_DOWN.name),
    *(plain.HOLD_DOWN_OFF.name, head.TRACK_BELT.name),
)
"""Every task that a plan may have and every luck that a hold point draws, in an order that only grows at its end."""


def steps_of(way: Way, s: Situation, beginning: Beginning) -> tuple[Step, ...]:
    """Return the steps of one way in one situation."""
    works = {Way.ONE_PIECE: one_piece, Way.SPLIT_FIRST: split_first, Way.SPLIT_REPEAT: split_repeat}[way]
    return in_order(works(s, beginning))


def one_piece(s: Situation, beginning: Beginning) -> Iterator[Work]:
    """Yield the work of putting a one-piece bearing back: all that traps it comes off and goes back."""
    yield from _access(beginning)
    lifting = any(shared.CRANE in task.equipment for trap in s.traps for task in _PARTS[trap].off)
    crane = (shared.WAIT_FOR_CRANE,) if lifting and not s.hoist else ()
    casing = Trap.WHEEL in s.traps
    opening = (*_opening(s, beginning), *(fan.OPEN_CASING,) * casing, *_hold_down(s), shared.HOLD_SHAFT)
    yield beside(opening, crane)
    yield from _permit(s, _old_bearing_off(s, beginning))
    off = [*_housing(s, shared.OPEN_HOUSING), *_off(s), *_old_bearing_off(s, beginning)]
    yield beside(off, _unexpected(s, beginning))
    if beginning is Beginning.SEIZED:
        yield shared.CLEAR_DEBRIS
    yield shared.clean_seat(_seat(s, beginning))
    yield shared.fit_new(s.mounting)
    yield shared.LOWER_SHAFT
    yield from _housing(s, shared.CLOSE_HOUSING)
    yield from _hold_down_off(s)
    yield from (*_on(s), *(fan.CLOSE_CASING,) * casing)
    yield from _align(s)
    yield from _closing(s)
    yield shared.GUARDS_ON
    yield shared.LOCKS_OFF
    if casing:
        yield fan.BALANCE
    yield from _start(s)


def split_first(s: Situation, beginning: Beginning) -> Iterator[Work]:
    """Yield the work of the first conversion: the old bearing goes, the bare shaft decides, the base is set."""
    yield from _access(beginning)
    yield from (*_opening(s, beginning), *_hold_down(s), *_drive_open(s), shared.HOLD_SHAFT, *_others_open(s))
    yield from _permit(s, _old_bearing_out(s, beginning))
    yield beside(
        (*_housing(s, shared.OPEN_HOUSING), *_old_bearing_out(s, beginning)), _unexpected(s, beginning)
    )
    if beginning is Beginning.SEIZED:
        yield shared.CLEAR_DEBRIS
    yield beside((shared.hold_point(_seat(s, beginning)),), (shared.OLD_BASE, _base(s)))
    yield from (shared.FIT_HALVES, shared.LOWER_SHAFT, shared.TIGHTEN, shared.CLOSE_SPLIT)
    yield from (shared.BASE_BOLTS, *_hold_down_off(s))
    yield from _drive_close(s)
    yield from _closing(s)
    yield from (shared.GUARDS_ON, shared.LOCKS_OFF)
    yield from _start(s)


def split_repeat(s: Situation, beginning: Beginning) -> Iterator[Work]:
    """Yield the work of changing the bearing of a split unit: nothing is cut, nothing else comes off."""
    yield from _access(beginning)
    yield from (*_opening(s, beginning), *_hold_down(s), shared.HOLD_SHAFT)
    yield beside((shared.OPEN_SPLIT,), _unexpected(s, beginning))
    if beginning is Beginning.SEIZED:
        yield shared.CLEAR_DEBRIS
    yield shared.inspect_seat(beginning is Beginning.SEIZED)
    yield from (shared.NEW_HALVES, shared.LOWER_SHAFT, shared.TIGHTEN, shared.CLOSE_SPLIT)
    yield from (*_hold_down_off(s), shared.CHECK_ALIGNMENT)
    yield from _closing(s)
    yield from (shared.GUARDS_ON, shared.LOCKS_OFF)
    yield from _start(s)


def _access(beginning: Beginning) -> Iterator[Work]:
    call = () if beginning is Beginning.PLANNED else (shared.CALL_IN,)
    yield beside((shared.ISOLATION,), (shared.COOLING,), call)
    yield shared.LOCK_OUT


def _opening(s: Situation, beginning: Beginning) -> Iterator[Task]:
    yield shared.GUARDS_OFF
    if beginning is not Beginning.PLANNED:
        yield shared.DIAGNOSE
    if s.drum:
        yield head.HOLD_DRUM
    if s.belts:
        yield plain.SLACK_BELTS
    if s.wheel_side:
        yield fan.SECURE_WHEEL


def _hold_down(s: Situation) -> tuple[Task, ...]:
    """Return holding the shaft down where another bearing does so by itself, before anything is loosened."""
    return (_repeated(plain.HOLD_DOWN, s.held_down),) if s.held_down else ()


def _hold_down_off(s: Situation) -> tuple[Task, ...]:
    """Return taking the hold-down off, when the new bearing holds the shaft."""
    return (_repeated(plain.HOLD_DOWN_OFF, s.held_down),) if s.held_down else ()


def _closing(s: Situation) -> Iterator[Task]:
    if s.wheel_side:
        yield fan.CLOSE_SEAL
    if s.belts:
        yield plain.TENSION_BELTS
    if s.drum:
        yield head.TENSION_BELT


def _start(s: Situation) -> Iterator[Work]:
    """Yield what the machine turns for: guards are on and locks off by then."""
    if s.drum:
        yield head.TRACK_BELT
    yield from (shared.TEST_RUN, shared.RUN_UP)


def _housing(s: Situation, task: Task) -> tuple[Task, ...]:
    return () if s.mounting in shared.AS_A_WHOLE else (task,)


def _unexpected(s: Situation, beginning: Beginning) -> tuple[Task, ...]:
    """Return fetching parts after a failure; where the old unit is changed whole, a new one is all it takes."""
    expected = beginning is Beginning.PLANNED or s.mounting in shared.AS_A_WHOLE
    return () if expected else (shared.FETCH_PARTS,)


def _seat(s: Situation, beginning: Beginning) -> SeatState:
    return SeatState.SEIZED if beginning is Beginning.SEIZED else s.seat


def _off(s: Situation) -> tuple[Task, ...]:
    """Return what comes off, outermost first; several parts of a kind take several times as long."""
    return tuple(_repeated(task, s.traps.count(t)) for t in dict.fromkeys(s.traps) for task in _PARTS[t].off)


def _on(s: Situation) -> tuple[Task, ...]:
    kinds = reversed(list(dict.fromkeys(s.traps)))
    return tuple(_repeated(task, s.traps.count(t)) for t in kinds for task in _PARTS[t].on)


def _repeated(task: Task, times: int) -> Task:
    return task if times == 1 else replace(task, hours=stretched(task.hours, times))


def _align(s: Situation) -> tuple[Task, ...]:
    aligned = tuple(task for trap in dict.fromkeys(s.traps) for task in _PARTS[trap].align)
    return aligned or (shared.CHECK_ALIGNMENT,)


def _old_bearing_off(s: Situation, beginning: Beginning) -> tuple[Task, ...]:
    """Return getting the old bearing off a shaft whose end is free or has been freed."""
    if beginning is Beginning.SEIZED and s.mounting not in shared.LIFTS_OUT:
        return (shared.cut_off(s.mounting, s.hot_work, seized=True),)
    return (shared.take_off(s.mounting),)


def _old_bearing_out(s: Situation, beginning: Beginning) -> tuple[Task, ...]:
    """Return getting the old bearing out from between what traps it."""
    if not s.trapped or s.mounting in shared.LIFTS_OUT:
        return _old_bearing_off(s, beginning)
    return (shared.cut_off(s.mounting, s.hot_work, seized=beginning is Beginning.SEIZED),)


def _permit(s: Situation, getting_out: tuple[Task, ...]) -> tuple[Task, ...]:
    cut = s.hot_work and any(shared.FIRE in task.hazards for task in getting_out)
    return (shared.PERMIT,) if cut else ()


def _base(s: Situation) -> Task:
    return {
        BaseHeight.NOT_HIGHER: shared.PACKING,
        BaseHeight.MILL: shared.MILL_BASE,
        BaseHeight.RAISE: shared.RAISE_LINE,
        BaseHeight.UNKNOWN: shared.UNKNOWN_BASE,
    }[s.base]


def _drive_open(s: Situation) -> tuple[Task, ...]:
    if not s.drive_opens:
        return ()
    drive = (fan.OPEN_COUPLING,) * s.coupling + (head.FREE_ARM,) * s.drive
    return ((fan.OPEN_CASING,) * s.casing_opens) + drive


def _others_open(s: Situation) -> tuple[Task, ...]:
    """Return opening the other bearings that the lift tilts too far: only when the shaft is held."""
    return (_repeated(plain.OPEN_OTHER, s.others_open),) if s.others_open else ()


def _drive_close(s: Situation) -> tuple[Task, ...]:
    """Return closing what was opened to lift the shaft; the alignment is checked in any case."""
    others = (_repeated(plain.CLOSE_OTHER, s.others_open),) if s.others_open else ()
    casing = (fan.CLOSE_CASING,) * s.casing_opens
    coupling = (fan.ALIGN_COUPLING, fan.CLOSE_COUPLING) if s.drive_opens and s.coupling else ()
    arm = (head.SET_ARM,) if s.drive_opens and s.drive else ()
    return (
        (*others, *casing, *coupling, *arm) if coupling or arm else (*others, *casing, shared.CHECK_ALIGNMENT)
    )
