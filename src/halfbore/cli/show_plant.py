"""A plant as text: the ranking of its positions, its machines, one thing, its history."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from halfbore.cli import show
from halfbore.cli.style import shown
from halfbore.domain.estimate import Narrowing
from halfbore.domain.study import Decision
from halfbore.domain.workspace import Change, KeptCatalogue, KeptDocument, MachineNode
from halfbore.domain.worth import Worth, notes
from halfbore.numbers import percent, write
from halfbore.present.wording import counted, sentence
from halfbore.units import Kind

MOST_NARROWINGS = 3


def ranking(rows: Sequence[Worth]) -> None:
    """Show positions by worth, the best first, and under the table what to do next at each."""
    if not rows:
        return
    show.heading(f"{counted(len(rows), 'position')} by worth")
    show.table(
        ("position", "advice", "worth", "chance", "h a stop"),
        [(r.position + ("*" if r.stale else ""), r.decision, _worth(r), _chance(r), _hours(r)) for r in rows],
        right=(2, 3, 4),
    )
    for note in notes(rows):
        show.line(note)
    if any(r.stale for r in rows):
        show.line("* Not of today's inputs: halfbore run TAG, or halfbore run for all.")
    rests = [
        (r.position, " ".join(sentence(words, shown()) for words in r.caveats)) for r in rows if r.caveats
    ]
    if rests:
        show.heading("What the worth rests on")
        show.pairs(rests)
    steps = [(r.position, r.next_step) for r in rows if r.next_step]
    if steps:
        show.heading("What to measure or settle next")
        show.pairs((position, sentence(step, shown())) for position, step in steps)


def _worth(row: Worth) -> str:
    return "–" if row.saving is None else write(row.saving.mean, Kind.MONEY, currency=row.currency)


def _chance(row: Worth) -> str:
    return "–" if row.chance is None else percent(row.chance)


def _hours(row: Worth) -> str:
    return "–" if row.hours_per_stop is None else write(row.hours_per_stop.p50, Kind.DURATION)


def narrowings(found: Sequence[Narrowing]) -> None:
    """Show what to measure next at each position."""
    positions = dict.fromkeys(n.position for n in found)
    if not positions:
        return
    show.heading("What to measure next")
    for position in positions:
        best = [n for n in found if n.position == position][:MOST_NARROWINGS]
        show.pairs((position if i == 0 else "", sentence(n.words, shown())) for i, n in enumerate(best))


def machines(nodes: Iterable[MachineNode]) -> None:
    """Show machines with their shaft lines and positions."""
    rows = [
        (node.tag if i == 0 else "", line.tag, ", ".join(line.positions))
        for node in nodes
        for i, line in enumerate(node.lines)
    ]
    show.table(("machine", "shaft line", "positions"), rows)


def catalogues(found: Iterable[KeptCatalogue]) -> None:
    """Show catalogues, the current version of each supplier marked."""
    rows = [(c.supplier, c.version, str(c.kept_at)[:10], "current" if c.current else "older") for c in found]
    show.table(("supplier", "version", "brought in", ""), rows)


def documents(found: Iterable[KeptDocument]) -> None:
    """Show the documents that were issued."""
    rows = [(d.number, d.title, d.file_name, str(d.made_at)[:10], d.who) for d in found]
    show.table(("number", "title", "file", "on", "by"), rows)


def document(data: Mapping[str, Any]) -> None:
    """Show plain data as typed, one value a line with its path."""
    show.pairs(_leaves(data, ""))


def _leaves(value: Any, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _leaves(inner, f"{path}.{key}" if path else str(key))
    elif isinstance(value, list) and any(isinstance(entry, Mapping) for entry in value):
        for i, entry in enumerate(value):
            name = entry.get("name") or entry.get("on") or i
            yield from _leaves(entry, f"{path}[{name}]")
    elif isinstance(value, list):
        yield path, ", ".join(map(str, value))
    elif value is not None:
        yield path, _plain(value)


def _plain(value: object) -> str:
    return ("no", "yes")[value] if isinstance(value, bool) else str(value)


def worth(row: Worth) -> None:
    """Show the kept answer for one position."""
    show.heading(f"{row.position}: {row.decision}")
    for reason in row.stale:
        show.line(f"Not of today's inputs: {reason}.")
    show.line(sentence(row.because, shown()))
    if row.decision is not Decision.KEEP:
        figures = [
            ("worth", _worth(row)),
            ("chance that it pays", _chance(row)),
            ("hours a stop", _hours(row)),
        ]
        show.pairs([("unit", row.unit or "none"), *figures])
    for text in row.caveats:
        show.line(sentence(text))
    if row.next_step:
        show.line(f"Next: {sentence(row.next_step, shown())}")


def history(found: Sequence[Change]) -> None:
    """Show changes, the newest first, those of one batch under its heading."""
    for batch in dict.fromkeys(change.batch for change in found):
        those = [change for change in found if change.batch == batch]
        first = those[0]
        show.heading(f"{batch}  {str(first.at)[:16]}  {first.who}: {first.what}")
        show.table(("where", "old", "new"), [(_where(c), _brief(c.old), _brief(c.new)) for c in those])


def _where(change: Change) -> str:
    place = " ".join(part for part in change.address if part) or "plant"
    return f"{place} {change.path}".strip()


def _brief(value: object) -> str:
    if value is None:
        return "–"
    if isinstance(value, Mapping):
        return counted(len(value), "value")
    if isinstance(value, list) and any(isinstance(entry, Mapping) for entry in value):
        return ", ".join(map(_entry, value))
    return _plain(value)


def _entry(value: object) -> str:
    if not isinstance(value, Mapping):
        return _plain(value)
    name = value.get("name") or value.get("on")
    return str(name) if name else ", ".join(f"{key} {_plain(inner)}" for key, inner in value.items())
