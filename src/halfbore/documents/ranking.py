"""The ranking of a plant as a workbook: every position with its worth, and what to do next there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from halfbore.documents.files import replace_file
from halfbore.documents.workbook import book_of
from halfbore.documents.workbook_rows import Number, Row, Sheet
from halfbore.domain.value import Estimate
from halfbore.domain.worth import Worth, notes
from halfbore.numbers import METRIC, Style
from halfbore.present.wording import CALCULATION_AID, invented_words, sentence
from halfbore.units import Kind

HEADS = (
    *("position", "machine", "shaft line", "advice", "unit", "currency"),
    *("worth, mean", "worth P10", "worth P50", "worth P90", "chance that it pays"),
    *("outage saved at a later planned stop P10, h", "P50, h", "P90, h"),
    *("what to measure or settle next", "why", "what the worth rests on", "stops shared with"),
    "not of today's inputs",
)


def write_ranking(
    rows: Sequence[Worth],
    never: Sequence[str],
    when: date,
    path: Path,
    invented: bool = False,
    style: Style = METRIC,
) -> Path:
    """Write the ranking beside its place, then put it there.

    rows: in the order of the ranking; never: shaft lines that were not run; when: the date that it bears.
    invented: plant and suppliers are; style: of the amounts in sentences.
    Returns the path. Raises InputError when the place cannot be written.
    """
    return replace_file(path, ranking_xlsx(rows, never, when, invented, style))


def ranking_xlsx(
    rows: Sequence[Worth],
    never: Sequence[str],
    when: date,
    invented: bool = False,
    style: Style = METRIC,
) -> bytes:
    """Return the ranking as a workbook; arguments as for `write_ranking`."""
    words = [*notes(rows), CALCULATION_AID, invented_words(invented, invented)]
    told = [*(f"Not run: {name}" for name in never), *filter(None, words)]
    sheets = (
        Sheet("ranking", HEADS, tuple(_row(row, style) for row in rows)),
        Sheet("notes", ("note",), tuple((note,) for note in told)),
    )
    return book_of(sheets, "Ranking", when)


def _row(row: Worth, style: Style) -> Row:
    return (
        *(row.position, row.machine, row.shaft_line, str(row.decision), row.unit, row.currency),
        *_money(row.saving),
        _number(row.chance, Kind.FRACTION),
        *_estimate(row.hours_per_stop, Kind.DURATION),
        *(sentence(row.next_step, style) if row.next_step else "", sentence(row.because, style)),
        *(
            " ".join(sentence(words, style) for words in row.caveats),
            ", ".join(row.shared_with),
            "; ".join(row.stale),
        ),
    )


def _money(found: Estimate | None) -> tuple[Number, ...]:
    mean = None if found is None else found.mean
    return (_number(mean, Kind.MONEY), *_estimate(found, Kind.MONEY))


def _estimate(found: Estimate | None, kind: Kind) -> tuple[Number, ...]:
    ends = (None,) * 3 if found is None else (found.p10, found.p50, found.p90)
    return tuple(_number(end, kind) for end in ends)


def _number(value: float | None, kind: Kind) -> Number:
    return Number(float("nan") if value is None else value, kind)
