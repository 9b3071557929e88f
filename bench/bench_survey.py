"""Speed of the survey intake: python bench/bench_survey.py.

10 000 positions in 30 columns as XLSX, read with a mapping: texts, words, measured sizes that nearly all differ, dates.
Prints the time and the most memory of this process and of the child that opens the workbook, then brought into
a workspace, then proposed.
"""

from __future__ import annotations

import random
import resource
import time
from pathlib import Path
from tempfile import TemporaryDirectory

import xlsxwriter

from halfbore import store
from halfbore.domain.survey import SurveyReading
from halfbore.intake.survey.mapping import SurveyMapping, read_mapping_text
from halfbore.intake.survey.propose import propose
from halfbore.intake.survey.read import read_survey
from halfbore.workspace.survey import edits
from halfbore.workspace.told import added

ROWS = 10_000
TIME_LIMIT, MEMORY_LIMIT = 10.0, 500e6
"""Seconds and bytes, this process and its child together."""
LENGTHS = (
    "x",
    "seat.diameter",
    "seat.nominal",
    "room.plain_left",
    "room.plain_right",
    "room.beside",
    "room.headroom",
    "base.centre_height",
    "base.bolt_spacing",
    "base.bolt_size",
    "base.stud_stick_out",
    "base.height_error",
    "lift.allowed",
    "lift.jack_x",
    "seal_left.diameter",
    "seal_right.diameter",
    "seat.form_error",
)
WORDS = {
    "role": ("locating", "non-locating"),
    "old_mounting": ("adapter sleeve", "direct seat"),
    "room.entry_side": ("left", "right"),
    "room.hoist": ("yes", "no"),
    "machine.kind": ("fan", "head shaft"),
    "failure.why": ("abrasive wear", "moisture corrosion"),
    "machine.site.dust": ("dust", "none"),
    "trapped_between": ("coupling; wheel", "wheel"),
}
TEXTS = ("tag.position", "seat.note", "surveyed_by")
DATES = ("in_service_since", "failure.on")
PATHS = (*TEXTS, *LENGTHS, *WORDS, *DATES)


def write(path: Path, rows: int = ROWS) -> SurveyMapping:
    """Write a survey of so many positions, and return its mapping."""
    draw = random.Random(1)
    with xlsxwriter.Workbook(str(path), {"constant_memory": True}) as book:
        sheet = book.add_worksheet("positions")
        sheet.write_row(0, 0, PATHS)
        for row in range(1, rows + 1):
            kind = draw.randrange(2)
            sheet.write_row(row, 0, [f"M{row // 2}-{'AB'[row % 2]}", f"note {row}", f"tape {row % 7}"])
            for column, name in enumerate(LENGTHS, len(TEXTS)):
                sheet.write(row, column, _length(draw, name))
            words = [_word(name, WORDS[name], row, kind) for name in WORDS]
            sheet.write_row(row, len(TEXTS) + len(LENGTHS), words)
            days = [
                f"{2000 + draw.randrange(25)}-{1 + draw.randrange(12):02}-{1 + draw.randrange(28):02}"
                for _ in DATES
            ]
            sheet.write_row(row, len(PATHS) - len(DATES), days)
    columns = "\n".join(f'"{p}" = {{ field = "{p}"{_unit(p)} }}' for p in PATHS)
    return read_mapping_text(
        f'format = 1\n[[table]]\nsheet = "positions"\nrows = "position"\nheader = 1\n'
        f'machine = {{ from = "position", before = "-" }}\n[table.columns]\n{columns}\n'
    )


def _length(draw: random.Random, name: str) -> float | str:
    """Return a size, most as numbers, some typed with a unit of their own."""
    low, high = (0.0, 0.1) if name in ("seat.form_error", "base.height_error") else (40.0, 60.0)
    size = round(draw.uniform(low, high), 3)
    return f"{size} mm" if draw.random() < 0.1 else size


def _word(name: str, words: tuple[str, str], row: int, kind: int) -> str:
    return words[row // 2 % 2 if name.startswith("machine.") else kind]


def _unit(path: str) -> str:
    return ', unit = "mm"' if path in LENGTHS else ""


_WHO = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)


def processor_time() -> float:
    """Return the time that processors have worked for this process and its children [s]."""
    return sum(usage.ru_utime + usage.ru_stime for usage in map(resource.getrusage, _WHO))


def bring_in(path: Path, reading: SurveyReading) -> int:
    """Write what was read into a new workspace, and return how many things it holds then."""
    with store.create(path, "bench") as workspace:
        after, lost = added(workspace.contents(), reading.told)
        assert not lost
        workspace.apply(edits(workspace.contents(), after), "bench", "survey")
    return len(after)


def main() -> None:
    """Measure and print."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "survey.xlsx"
        mapping = write(path)
        start, before = time.perf_counter(), processor_time()
        reading = read_survey(path, mapping)
        took, worked = time.perf_counter() - start, processor_time() - before
        here, child = (1024 * resource.getrusage(who).ru_maxrss for who in _WHO)
        print(
            f"{reading.rows} rows x {len(PATHS)} columns: {len(reading.told)} told, {len(reading.rejects)} rejected"
        )
        print(f"read     {took:6.2f} s, of it {worked:.2f} s of a processor (limit {TIME_LIMIT:g} s)")
        print(
            f"memory   {here / 1e6:6.0f} MB here, {child / 1e6:.0f} MB in the child (limit {MEMORY_LIMIT / 1e6:.0f} MB)"
        )
        start, before = time.perf_counter(), processor_time()
        facts = bring_in(Path(folder) / "bench.halfbore", reading)
        took, worked = time.perf_counter() - start, processor_time() - before
        print(
            f"bring in {took:6.2f} s, of it {worked:.2f} s of a processor: {facts} things, in one transaction"
        )
        start = time.perf_counter()
        propose(path)
        print(f"propose  {time.perf_counter() - start:6.2f} s")


if __name__ == "__main__":
    main()
