"""What it saves as a histogram, what moves it as a tornado, where it turns against what the plant says."""

from __future__ import annotations

import math
from dataclasses import dataclass

from halfbore.domain.value import Swing, Value
from halfbore.numbers import METRIC, Style, is_known, percent, runs, unit_of, write
from halfbore.present.frame import nice
from halfbore.present.labels import Box, Label, Spot, Words, cut, drawn, place
from halfbore.present.metrics import text_width
from halfbore.present.palette import LIGHT, Palette
from halfbore.present.svg import Drawing, Group, Line, Pen, Rect, Shape, Text
from halfbore.present.wording import prose
from halfbore.units import Kind

PLOT = 90.0
"""Height of the histogram's bars [px]."""
ROW = 17.0
DASHED = "3 2.5"
NAMES = 200.0
"""Most width of the column of inputs left of a tornado [px]."""


@dataclass(frozen=True)
class _Axis:
    """A scale of money across the paper."""

    left: float
    right: float
    low: float
    high: float

    def x(self, amount: float) -> float:
        """Return the place of an amount, at the end of the axis where it lies beyond."""
        inside = min(max(amount, self.low), self.high)
        return self.left + (inside - self.low) * (self.right - self.left) / (self.high - self.low)

    def ticks(self, count: float) -> list[float]:
        """Return round amounts on the axis."""
        step = nice((self.high - self.low) / count)
        first = math.ceil(self.low / step - 1e-9)
        return [i * step for i in range(first, math.floor(self.high / step + 1e-9) + 1)]


def _around_zero(left: float, right: float, *amounts: float) -> _Axis:
    low, high = min(0.0, *amounts), max(0.0, *amounts)
    return _Axis(left, right, low, high if high > low else low + 1.0)


def histogram(value: Value, width: float = 330.0, style: Style = METRIC, look: Palette = LIGHT) -> Drawing:
    """Return the savings of all runs: what loses money left of an ink zero line, P10, P50 and P90 above."""
    axis = _around_zero(10.0, width - 10.0, float(value.edges[0]), float(value.edges[-1]))
    top = 38.0
    base = top + PLOT
    largest = max(abs(axis.low), abs(axis.high))
    shapes = _columns(value, axis, base, style, look)
    shapes.append(Line((axis.left, base), (axis.right, base), Pen(look.rule)))
    shapes.append(Line((axis.x(0.0), top - 8.0), (axis.x(0.0), base + 4.0), Pen(look.ink, 1.8)))
    labels = []
    for name, amount, weight in _marks(value):
        x = axis.x(amount)
        shapes.append(Line((x, 22.0), (x, base), Pen(look.ink, 1.0, "" if weight > 400 else DASHED)))
        words = Words(f"{name} {_money(amount, value, largest, style)}", look.ink, weight)
        labels.append(Label((words,), tuple(Spot(x, 21.0, across, -1) for across in (0, 1, -1))))
    if 1.0 - value.chance >= 0.005:
        loses = Words(f"loses {percent(1.0 - value.chance, style)}", look.past, 600)
        spots = tuple(Spot(axis.x(0.0) + 5.0 * s, y, s, 0) for y in (top + 4.0, top + 20.0) for s in (-1, 1))
        labels.append(Label((loses,), spots, drift=1))
    zero = Box(axis.x(0.0) - 2.0, top - 8.0, axis.x(0.0) + 2.0, base + 4.0)
    placed = place(labels, [zero], 0.0, width)
    shapes += [s for p in placed for s in drawn(p, look.sheet, Pen(look.ink2))]
    for amount in axis.ticks(5.0):
        x, told = axis.x(amount), _money(amount, value, largest, style)
        shapes.append(Line((x, base), (x, base + 4.0), Pen(look.rule)))
        shapes.append(Text((x, base + 16.0), told, look.ink2, anchor="middle"))
    years = write(value.horizon, Kind.DURATION, style, unit="years")
    unit = unit_of(Kind.MONEY, style, largest, currency=value.currency)
    shapes.append(
        Text(
            (width, base + 31.0),
            f"{unit} saved over {years}; end bars hold the tails",
            look.ink2,
            anchor="end",
        )
    )
    range_ = write((value.saving.p10, value.saving.p90), Kind.MONEY, style, currency=value.currency)
    words_ = prose(f"Saved over {years}: {range_} from P10 to P90; pays in {runs(value.chance)}.")
    down = max(0.0, -min(p.box.top for p in placed))  # marks close together stand above one another
    return Drawing(width, base + 36.0 + down, (Group(tuple(shapes), (0.0, down)),), "What it saves", words_)


def _columns(value: Value, axis: _Axis, base: float, style: Style, look: Palette) -> list[Shape]:
    """Return the bars of a histogram; what lies outside P10 to P90 is no less likely drawn, only its hue tells loss."""
    tallest = max(float(value.counts.max()), 1.0)
    bars: list[Shape] = []
    for low, high, count in zip(value.edges[:-1], value.edges[1:], value.counts, strict=True):
        height, left, right = PLOT * float(count) / tallest, axis.x(float(low)), axis.x(float(high))
        if height > 0.0:
            colour = look.past if 0.5 * (low + high) < 0.0 else look.answers
            bar = Rect(left + 0.4, base - height, max(right - left - 0.8, 0.6), height, fill=colour)
            ends = write((float(low), float(high)), Kind.MONEY, style, currency=value.currency)
            share = write(float(count) / float(value.counts.sum()), Kind.FRACTION, style)
            bars.append(Group((bar,), told=prose(f"{ends}: {share} of the runs")))
    return bars


def _marks(value: Value) -> tuple[tuple[str, float, int], ...]:
    """Return what is marked, the middle first: it has the first place for its label."""
    return (("P50", value.saving.p50, 600), ("P10", value.saving.p10, 400), ("P90", value.saving.p90, 400))


def _money(amount: float, value: Value, largest: float, style: Style) -> str:
    return write(amount, Kind.MONEY, style, beside=largest, currency=value.currency, bare=True)


def swing_words(swing: Swing, style: Style = METRIC) -> str:
    """Return an input's range as it stands beside its bar, with its unit."""
    ends = (swing.low, swing.high)
    if swing.unit == "":
        return write(ends, Kind.FRACTION, style) if max(ends) <= 1.0 else write(ends, Kind.NUMBER, style)
    if swing.unit == "h":
        return write(ends, Kind.DURATION, style)
    code, _, per = swing.unit.partition("/")
    kind = Kind.MONEY_RATE if per else Kind.MONEY
    return write(ends, kind, style, currency=code)


def tornado(
    value: Value, most: int = 8, width: float = 340.0, style: Style = METRIC, look: Palette = LIGHT
) -> Drawing:
    """Return what moves the saving, the widest input first: open with the input at P10, solid at P90."""
    swings = value.swings[:most]
    mean = value.saving.mean
    ends = [end for s in swings for end in (s.at_low, s.at_high)] or [mean]
    names = min(max((text_width(s.name, 12.0) for s in swings), default=40.0) + 4.0, NAMES)
    ranges = max((text_width(swing_words(s, style), 12.0) for s in swings), default=60.0)
    left = names + max(ranges, 64.0) + 16.0
    axis = _Axis(left, width - 14.0, min(*ends, mean), max(*ends, mean + 1.0))
    shapes: list[Shape] = [
        Text((0.0, 11.0), "input", look.ink2),
        Text((left - 10.0, 11.0), "P10 to P90", look.ink2, anchor="end"),
    ]
    for i, swing in enumerate(swings):
        y = 17.0 + i * ROW
        shapes.append(Text((0.0, y + 12.0), cut(swing.name, names, 12.0), look.ink))
        shapes.append(Text((left - 10.0, y + 12.0), swing_words(swing, style), look.ink, anchor="end"))
        shapes.append(Group(tuple(_swing(swing, axis, mean, y, look)), told=_swing_told(swing, value, style)))
    bottom = 17.0 + len(swings) * ROW
    middle = axis.x(mean)
    shapes.append(Line((middle, 14.0), (middle, bottom + 2.0), Pen(look.ink, 1.5)))
    foot, end = _tornado_foot(value, axis, ends, bottom, width, style, look)
    told = "; ".join(f"{s.name} {swing_words(s, style)}" for s in swings[:3])
    return Drawing(width, end, (*shapes, *foot), "What moves it", prose(f"Widest first: {told}."))


def _swing_told(swing: Swing, value: Value, style: Style) -> str:
    low, high = (write(m, Kind.MONEY, style, currency=value.currency) for m in (swing.at_low, swing.at_high))
    return prose(f"{swing.name} {swing_words(swing, style)}: mean saving {low} at its P10, {high} at its P90")


def _swing(swing: Swing, axis: _Axis, mean: float, y: float, look: Palette) -> list[Shape]:
    middle = axis.x(mean)
    shapes: list[Shape] = []
    for amount, solid in ((swing.at_low, False), (swing.at_high, True)):
        left, right = sorted((axis.x(amount), middle))
        if solid:
            shapes.append(Rect(left, y + 3.0, right - left, 10.0, fill=look.answers))
        elif right - left > 1.4:
            shapes.append(
                Rect(left + 0.7, y + 3.7, right - left - 1.4, 8.6, Pen(look.answers, 1.4), look.sheet)
            )
    return shapes


def _tornado_foot(
    value: Value, axis: _Axis, ends: list[float], bottom: float, width: float, style: Style, look: Palette
) -> tuple[list[Shape], float]:
    """Return the legend, the amounts below the bars and their unit, and where it all ends."""
    largest = max(abs(end) for end in (*ends, value.saving.mean))
    unit = unit_of(Kind.MONEY, style, largest, currency=value.currency)
    legend, below = bottom + 15.0, bottom + 2.0
    labels = [
        Label(
            (Words(_money(amount, value, largest, style), look.ink, weight),),
            tuple(Spot(axis.x(amount), below, across, 1) for across in (0, -1, 1)),
            1,
        )
        for amount, weight in ((value.saving.mean, 600), (min(ends), 400), (max(ends), 400))
    ]
    name = Label((Words(f"mean saving, {unit}", look.ink2),), (Spot(width, bottom + 18.0, -1, 1),), 1)
    placed = place([*labels, name], [], 190.0, width)
    shapes: list[Shape] = [
        *(s for p in placed for s in drawn(p, look.sheet, Pen(look.ink2))),
        Rect(0.7, legend - 8.3, 12.6, 8.6, Pen(look.answers, 1.4), look.sheet),
        Text((18.0, legend), "input at P10", look.ink2),
        Rect(96.0, legend - 9.0, 14.0, 10.0, fill=look.answers),
        Text((114.0, legend), "input at P90", look.ink2),
    ]
    return shapes, max(p.box.bottom for p in placed)


def turning_point(
    value: Value, width: float = 330.0, style: Style = METRIC, look: Palette = LIGHT
) -> Drawing | None:
    """Return the break-even cost of lost production against what the plant says; None where it has no place."""
    rates = [value.breakeven, *value.plant_rate]
    if not is_known(value.breakeven) or not is_known(value.plant_rate) or value.breakeven <= 0.0:
        return None
    axis = _Axis(10.0, width - 10.0, 0.0, max(rates) * 1.12)
    base, code = 44.0, value.currency
    x = axis.x(value.breakeven)
    turns = f"turns at {write(value.breakeven, Kind.MONEY_RATE, style, currency=code)}"
    says = f"the plant says {write(value.plant_rate, Kind.MONEY_RATE, style, currency=code)}"
    low, high = (axis.x(r) for r in value.plant_rate)
    shapes: list[Shape] = [
        Line((axis.left, base), (axis.right, base), Pen(look.rule)),
        Rect(low, base - 9.0, max(high - low, 2.0), 6.0, fill=look.acts),
        Line((x, base - 24.0), (x, base + 4.0), Pen(look.ink, 1.2, DASHED)),
    ]
    for rate in axis.ticks(4.0):
        shapes.append(Line((axis.x(rate), base), (axis.x(rate), base + 4.0), Pen(look.rule)))
        number = write(rate, Kind.MONEY_RATE, style, beside=max(rates), currency=code, bare=True)
        shapes.append(Text((axis.x(rate), base + 16.0), number, look.ink2, anchor="middle"))
    labels = [
        Label((Words(turns, look.ink, 600),), (Spot(x, base - 25.0, 0, -1),)),
        Label(
            (Words(says, look.acts, 600),),
            (Spot((low + high) / 2, base - 10.0, 0, -1), Spot(high + 5, base - 6, 1, 0)),
        ),
    ]
    shapes += [s for p in place(labels, [], 0.0, width) for s in drawn(p, look.sheet, Pen(look.ink2))]
    unit = unit_of(Kind.MONEY_RATE, style, *rates, currency=code)
    shapes.append(Text((width, base + 31.0), f"cost of lost production, {unit}", look.ink2, anchor="end"))
    return Drawing(width, base + 36.0, tuple(shapes), "Where it turns", prose(f"The saving {turns}; {says}."))
