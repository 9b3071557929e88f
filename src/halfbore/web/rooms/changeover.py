"""The changeover room: both plans on one axis, the difference in hours and exposure first, cautions before the work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfbore.domain.plan import ChangeoverPair, Phase, Plan, TaskTime
from halfbore.errors import InputError
from halfbore.numbers import Style, percent, write
from halfbore.present.gantt import gantt, plan_title
from halfbore.present.plans import (
    CAUTIONS,
    CLOCKS,
    before_after,
    exposures,
    hours_saved,
    part_words,
    precaution,
)
from halfbore.present.wording import SITE_RULES, mark_of
from halfbore.sources import Status
from halfbore.units import Kind
from halfbore.web import editing
from halfbore.web.addresses import room_page, tag_of
from halfbore.web.desk import Desk
from halfbore.web.editing import Editing
from halfbore.web.page import AtDesk, Form
from halfbore.web.rooms import of_position as room
from halfbore.web.rooms.of_position import Seen
from halfbore.web.told import all_told, entries, home
from halfbore.web.words import THEMED, svg

router = APIRouter(include_in_schema=False)
WIDTHS = {"wide": 948.0, "middle": 792.0}
"""Widths of the chart [px], one for each class of page widths."""
TASKS = "changeover.tasks"
SITE = (
    *("changeover.next_stop", "changeover.crew", "changeover.isolation_lead", "changeover.cooling"),
    *("changeover.run_up", "changeover.hot_work_allowed"),
)
"""What the site says about the work."""


@dataclass(frozen=True)
class Work:
    """One task of either plan: hours and people each way, None where a plan does not have it."""

    name: str
    one_piece: TaskTime | None
    split: TaskTime | None

    @property
    def any(self) -> TaskTime:
        """The task as one of the plans has it."""
        found = self.split or self.one_piece
        assert found is not None
        return found

    @property
    def mark(self) -> str:
        """How its hours are founded."""
        return mark_of(self.any.task.source).value

    @property
    def own(self) -> bool:
        """Whether its hours are the site's own."""
        return self.any.task.source.status is Status.GIVEN

    @property
    def persons(self) -> str:
        """People each way: one number where both ways take as many."""
        counts = dict.fromkeys(str(t.task.persons) for t in (self.one_piece, self.split) if t)
        return " / ".join(counts)


@router.get("/positions/{tag}/changeover")
def look(request: Request, desk: AtDesk, tag: str) -> Response:
    """Show both changeovers of a position; `edit` with `at` names the value that is being edited."""
    return _page(request, desk, tag, room.asked(request))


@router.post("/positions/{tag}/changeover")
def change(request: Request, desk: AtDesk, form: Form, tag: str) -> Response:
    """Keep a value of the site, or its own hours for a task, or take those away."""
    if form.get("do") not in ("add", "remove"):
        done = room.kept(desk, form, "changeover", tag)
        return _page(request, desk, tag, done) if isinstance(done, Editing) else done
    at = desk.position(tag_of(tag))
    try:
        if form["do"] == "add":
            _add(desk, form, at[:2])
        else:
            editing.remove(desk.workspace, form, desk.who)
    except InputError as error:
        return _page(request, desk, tag, Editing(at, "", None, error), form)
    return RedirectResponse(room_page(at[2], "changeover"), 303)


def _add(desk: Desk, form: Form, line: tuple[str, ...]) -> None:
    editing.add(desk.workspace, home(desk.workspace, line, TASKS) or line[:1], TASKS, form, desk.who)


def _page(
    request: Request, desk: Desk, tag: str, edited: Editing | None, form: Form | None = None
) -> Response:
    seen = room.seen(desk, desk.whole, tag, room.style(request))
    return room.page(request, "changeover", seen, edited, lambda one: _record(one, form or {}))


def _record(seen: Seen, form: Form) -> dict[str, Any]:
    workspace, line = seen.desk.workspace, seen.line
    given = {
        "site": all_told(workspace, line, SITE, seen.style),
        "own": [
            all_told(workspace, line, (f"{e}.task", f"{e}.duration", f"{e}.plan"), seen.style)
            for e in entries(workspace, line, TASKS)
        ],
        "given": form,
        "names": [],
        "site_rules": SITE_RULES,
    }
    pair = seen.found.plans if seen.found else None
    if pair is None:
        return {**given, "pair": None}
    plans = (pair.one_piece, pair.split_first)
    return {
        **given,
        "pair": pair,
        "worth": seen.found.value if seen.found else None,
        "headline": headline(seen, pair),
        "drawings": {n: svg(gantt(plans, w, seen.style, THEMED)) for n, w in WIDTHS.items()},
        "cautions": cautions(seen, plans),
        "phases": phases(pair),
        "names": sorted({t.task.name for p in plans for t in p.tasks}),
        "clocks": clocks(pair, seen.style),
        "plans": list(dict.fromkeys((*plans, pair.split_repeat, pair.one_piece_seized))),
        "exposures": exposures(pair),
        "held": hold_points(pair.split_first, seen.style),
        "notes": [
            n
            for n in dict.fromkeys((*pair.notes, *pair.split_first.notes))
            if not n.startswith("Hold points")
        ],
        "plan_title": plan_title,
        "before_after": before_after,
    }


def headline(seen: Seen, pair: ChangeoverPair) -> str:
    """Return the difference in one sentence: at the next change, and at each later planned one."""
    value = seen.found.value if seen.found else None
    if value is not None:
        now, later = (hours_saved(v, seen.style) for v in (value.hours_saved_next, value.hours_saved_later))
        now = f"takes {now}" if now.startswith("between") else now
        later = f"takes {later}" if later.startswith("between") else later
        return f"A split unit at {seen.tag} {now} at the next change, and {later} at each later planned one."
    hours = [
        write((o.p10, o.p90), Kind.DURATION, seen.style)
        for o in (pair.split_first.outage, pair.one_piece.outage)
    ]
    return f"The next change at {seen.tag} takes {hours[0]} with a split unit and {hours[1]} with a one-piece bearing."


def cautions(seen: Seen, plans: Sequence[Plan]) -> list[tuple[str, str]]:
    """Return what can hurt someone in these plans, each with what is done against it."""
    exposed = {e.hazard for plan in plans for e in plan.exposure}
    unit = seen.found.choice.chosen_unit if seen.found and seen.found.choice else None
    return [(h.value, precaution(h, unit, seen.style)) for h in CAUTIONS if h in exposed]


def phases(pair: ChangeoverPair) -> list[tuple[Phase, list[Work]]]:
    """Return the tasks of both plans by where they stand on the clocks, in the order of the work."""
    old, new = ({t.task.name: t for t in p.tasks} for p in (pair.one_piece, pair.split_first))
    works = [Work(name, old.get(name), new.get(name)) for name in dict.fromkeys((*old, *new))]
    works.sort(key=lambda w: max(t.start for t in (w.one_piece, w.split) if t))
    return [(phase, found) for phase in Phase if (found := [w for w in works if w.any.task.phase is phase])]


def clocks(pair: ChangeoverPair, style: Style) -> list[tuple[str, ...]]:
    """Return each clock, its words, and its hours: one-piece, first conversion, by how much shorter, repeat, the same."""
    shorter = {s.clock: s for s in pair.shortening}
    plans = (pair.one_piece, pair.split_first, pair.split_repeat)
    rows: list[tuple[str, ...]] = []
    for name, words in ((n, w) for n, w in CLOCKS.items() if n in shorter):
        hours = [
            write((c.p10, c.p90), Kind.DURATION, style, bare=True) for c in (getattr(p, name) for p in plans)
        ]
        first, repeat = (part_words(part, style) for part in (shorter[name].first, shorter[name].repeat))
        rows.append((name, words, hours[0], hours[1], first, hours[2], repeat))
    return rows


def hold_points(plan: Plan, style: Style) -> list[tuple[str, list[str]]]:
    """Return each task whose outcome is open, with the chance of each outcome and the hours that it adds."""
    return [
        (
            time.task.name,
            [
                f"{b.name} {percent(b.chance, style)}"
                + (f", adds {write(b.hours, Kind.DURATION, style)}" if b.hours.high > 0.0 else "")
                for b in time.task.branches
            ],
        )
        for time in plan.tasks
        if time.task.branches
    ]
