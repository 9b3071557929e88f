"""Both changeovers on one time axis, so that the eye subtracts; below each, who is exposed to what and how long."""

from __future__ import annotations

import math
from dataclasses import dataclass

from halfbore.domain.economics import Stop
from halfbore.domain.plan import Plan, TaskTime, Way
from halfbore.numbers import METRIC, Style, write
from halfbore.present.labels import Box, Label, Spot, Words, cut, drawn, place
from halfbore.present.metrics import text_width
from halfbore.present.palette import LIGHT, Palette
from halfbore.present.svg import Drawing, Group, Line, Pen, Rect, Shape, Text, hatching
from halfbore.present.wording import prose
from halfbore.units import Kind

ROW, LEAST_ROW, LANE = 13.4, 11.4, 14.0
"""Height of a task's row, least where many must fit, and of a hazard's lane [px]."""
BAR = 8.0
NAMES = 284.0
"""Most width of the column of names [px]."""
DASHED = "3 2"
_STEPS = (1.0, 2.0, 4.0, 6.0, 8.0, 12.0, 24.0, 48.0, 96.0, 192.0, 480.0)


@dataclass(frozen=True)
class _Axis:
    """Hours on the paper."""

    left: float
    right: float
    most: float

    def x(self, hours: float) -> float:
        return self.left + (self.right - self.left) * hours / self.most

    @property
    def step(self) -> float:
        """Hours between two lines of the grid."""
        return next((s for s in _STEPS if self.most / s <= 9.0), self.most)


def plan_title(plan: Plan) -> str:
    """Return a plan's name with how the change begins."""
    begins = "after a seizure" if plan.seized else _BEGINS[plan.stop]
    return f"{plan.way.value}, {begins}"


_BEGINS = {Stop.PLANNED: "in a planned stop", Stop.UNPLANNED: "in an unplanned stop"}


def gantt(
    plans: tuple[Plan, ...],
    width: float = 680.0,
    style: Style = METRIC,
    look: Palette = LIGHT,
    height: float = math.inf,
) -> Drawing:
    """Return plans under one another on one axis of hours from product off.

    Tasks at their likely durations; bars with stripes expose people; the band runs from P10 to P90 of product on.
    height: that it shall not pass if rows of less height can help it [px].
    """
    others = sum(33.0 + LANE * len(p.exposure) for p in plans) + 18.0
    row = min(max((height - others) / sum(len(p.tasks) for p in plans), LEAST_ROW), ROW)
    most = max(max(p.outage.p90, *(t.finish for t in p.tasks)) for p in plans)
    longest = max(text_width(t.task.name, 12.0) for p in plans for t in p.tasks)
    hazards = max((text_width(e.hazard.value, 12.0) for p in plans for e in p.exposure), default=0.0)
    axis = _Axis(max(min(longest + 12.0, NAMES), hazards + 10.0), width - 8.0, most * 1.02)
    shapes: list[Shape] = []
    y = 0.0
    for plan in plans:
        block, tall = _plan(plan, axis, row, width, style, look)
        shapes.append(Group(block, (0.0, round(y, 2))))
        y += tall + 10.0
    grid = _grid(axis, y, width, style, look)
    title = "Changeovers on one time axis"
    return Drawing(
        width, y + 18.0, (*grid, *shapes), title, prose(" ".join(_described(p, style) for p in plans))
    )


def _described(plan: Plan, style: Style) -> str:
    out = write((plan.outage.p10, plan.outage.p90), Kind.DURATION, style)
    return f"{plan_title(plan)}: {len(plan.tasks)} tasks, product on after {out}."


def _grid(axis: _Axis, bottom: float, width: float, style: Style, look: Palette) -> list[Shape]:
    shapes: list[Shape] = []
    hours, words = 0.0, "hours from product off"
    end = width - text_width(words, 12.0) - 8.0
    while hours <= axis.most:
        x = axis.x(hours)
        shapes.append(Line((x, 16.0), (x, bottom), Pen(look.hair)))
        number = write(hours, Kind.COUNT, style)
        if x + text_width(number, 12.0) / 2 < end:
            shapes.append(Text((x, bottom + 14.0), number, look.ink2, anchor="middle"))
        hours += axis.step
    return [*shapes, Text((width, bottom + 14.0), words, look.ink2, anchor="end")]


def _plan(
    plan: Plan, axis: _Axis, row: float, width: float, style: Style, look: Palette
) -> tuple[tuple[Shape, ...], float]:
    colour = look.ink3 if plan.way is Way.ONE_PIECE else look.answers
    title = plan_title(plan)
    head = Text((0.0, 12.0), title[0].upper() + title[1:], look.ink, 13.0, 600, halo=look.sheet)
    top = 20.0
    shapes: list[Shape] = []
    taken = []
    for i, time in enumerate(plan.tasks):
        y = top + i * row
        bar, box = _task(time, y, axis, row, colour, look)
        shapes.append(Group(tuple(bar), told=_told(time, style)))
        taken.append(box)
    bottom = top + len(plan.tasks) * row
    band = _band(plan, axis, top, bottom, colour, look)
    text = f"product on {write((plan.outage.p10, plan.outage.p90), Kind.DURATION, style)}"
    p10, p90 = axis.x(plan.outage.p10), axis.x(plan.outage.p90)
    spots = [
        Spot(x, y, s, 1) for y in (top, top + row, top + 2 * row) for x, s in ((p10 - 4, -1), (p90 + 4, 1))
    ]
    label = Label((Words(text, colour, 600),), tuple(spots), drift=1, size=13.0)
    placed = place([label], taken, axis.left, width)
    words = [s for p in placed for s in drawn(p, look.sheet, Pen(look.ink2))]
    lanes, height = _lanes(plan, axis, bottom + 3.0, width, style, look)
    return (head, *band, *shapes, *words, *lanes), bottom + 3.0 + height


def _told(time: TaskTime, style: Style) -> str:
    """Return a task in words: its hours, its people, what exposes them."""
    hours = write((time.start, time.finish), Kind.DURATION, style)
    people = f"{time.task.persons} persons" if time.task.persons != 1 else "1 person"
    exposed = "".join(f", {hazard.value}" for hazard in time.task.hazards)
    return prose(f"{time.task.name}: {hours} after product off, {people}{exposed}")


def _band(plan: Plan, axis: _Axis, top: float, bottom: float, colour: str, look: Palette) -> list[Shape]:
    """Return the range of product on, P10 to P90, with its middle."""
    left, middle, right = (axis.x(h) for h in (plan.outage.p10, plan.outage.p50, plan.outage.p90))
    fill = look.metal if plan.way is Way.ONE_PIECE else look.wash
    line = Line((middle, top), (middle, bottom), Pen(colour, 1.4))
    return [Rect(left, top, right - left, bottom - top, fill=fill), line]


def _task(
    time: TaskTime, y: float, axis: _Axis, row: float, colour: str, look: Palette
) -> tuple[list[Shape], Box]:
    """Return one task: its name, its bar, the number of persons; and what it takes beside the names."""
    left, right = axis.x(time.start), axis.x(time.finish)
    width, top = max(right - left, 1.0), y + (row - BAR) / 2
    persons = str(time.task.persons) if time.task.persons else ""
    name = Text(
        (0.0, y + row - 3.4), cut(time.task.name, axis.left - 10.0, 12.0), look.ink if persons else look.ink2
    )
    bar: list[Shape] = [Rect(left, top, width, BAR, fill=colour)]
    if not persons:
        bar = [
            Rect(
                left + 0.5,
                top + 0.5,
                max(width - 1.0, 1.0),
                BAR - 1.0,
                Pen(look.ink2, 1.0, DASHED),
                look.sheet,
            )
        ]
    elif time.slack > 1e-6:
        bar = [Rect(left, top, width, BAR, fill=look.metal2)]
        bar.append(
            Line((right, y + row / 2), (axis.x(time.finish + time.slack), y + row / 2), Pen(look.ink3))
        )
    if time.task.hazards:
        bar += hatching(left, top, width, BAR, Pen(look.sheet, 1.6), gap=6.0)
    count = Text((right + 4.0, y + row - 3.2), persons, look.ink2, halo=look.sheet)
    end = axis.x(time.finish + max(time.slack, 0.0)) + 14.0
    return [name, *bar, *([count] if persons else [])], Box(left - 2.0, y, end, y + row)


def _lanes(
    plan: Plan, axis: _Axis, top: float, width: float, style: Style, look: Palette
) -> tuple[list[Shape], float]:
    """Return a lane for each hazard: when people are exposed to it, its hours and person-hours."""
    shapes: list[Shape] = []
    for i, exposure in enumerate(plan.exposure):
        y = top + i * LANE
        shapes.append(Text((axis.left - 8.0, y + 10.5), exposure.hazard.value, look.ink2, anchor="end"))
        shapes.append(Line((axis.left, y + LANE - 0.5), (width, y + LANE - 0.5), Pen(look.hair)))
        for time in plan.tasks:
            if exposure.hazard in time.task.hazards:
                left, span = axis.x(time.start), axis.x(time.finish) - axis.x(time.start)
                shapes += hatching(left, y + 2.5, span, BAR, Pen(look.past), gap=5.0)
                shapes.append(Rect(left, y + 2.5, span, BAR, Pen(look.past, 1.2)))
        hours = write(exposure.hours, Kind.DURATION, style)
        persons = write(exposure.person_hours, Kind.DURATION, style, bare=True)
        words = f"{hours}, {persons} person-h"
        shapes.append(Text((width, y + 10.5), words, look.ink, weight=600, anchor="end", halo=look.sheet))
    return shapes, len(plan.exposure) * LANE
