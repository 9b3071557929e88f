"""What must stand beside a saving: shared stops, how much rests on a cure, a mean that few runs carry."""

from __future__ import annotations

from collections.abc import Iterator

from halfbore.domain.value import Estimate
from halfbore.numbers import number, runs
from halfbore.phrases import Amount, listed, phrase
from halfbore.units import Kind
from halfbore.value.sharing import Sharing

MOST = 0.5
"""A cure that carries more than this part of the mean saving is said (convention of ours)."""


def shared_stops(together: Sharing) -> Iterator[str]:
    """Yield that stops were shared with other positions, how they count, and which of them another change governs."""
    if not together.others:
        return
    yield (
        f"Stops shared with {listed(together.others)}: of what a stop itself costs, {number(100.0 * together.share)} % "
        "counts here, parts and labour in full."
    )
    if together.staying:
        those = "them" if together.governed == 1.0 else f"{number(100.0 * together.governed)} % of the stops"
        yield (
            f"No split unit goes in at {listed(together.staying)}: the one-piece change there governs {those}, "
            "in which no outage, lost production, crane or unplanned extra is saved here."
        )


def carried_by_cure(saving: Estimate, without: Estimate) -> bool:
    """Return whether more than half of a mean saving is there only because the unit cures."""
    return saving.mean > 0.0 and saving.mean - without.mean > MOST * saving.mean


def resting_on_cure(
    saving: Estimate, without: Estimate, replacements: tuple[Estimate, Estimate], years: float, currency: str
) -> Iterator[str]:
    """Yield how much of the mean saving rests on the cure, where that is more than half."""
    if not carried_by_cure(saving, without):
        return
    whole, fewer = (
        Amount(money, Kind.MONEY, currency=currency) for money in (saving.mean, saving.mean - without.mean)
    )
    old, new = (number(each.mean, 2) for each in replacements)
    before = phrase("Of the mean saving of {}, {} rest on the cure of today's failures", whole, fewer)
    if without.mean < 0.0:
        before = phrase("The mean saving of {} rests on the cure of today's failures", whole)
    left = Amount(abs(without.mean), Kind.MONEY, currency=currency)
    as_now = "it would save {}" if without.mean >= 0.0 else "it would cost {} more than it saves"
    if replacements[1].mean < replacements[0].mean:
        yield phrase(
            "{}: {} replacements after the next change with one-piece bearings, {} with the split unit, over {} years, "
            "if the unit holds and lives as estimated; were nothing cured, {}.",
            *(before, old, new, number(years, 2), phrase(as_now, left)),
        )
        return
    yield phrase(
        "{}: by risks of its own and by its age the split unit is replaced {} times over {} years, the one-piece "
        "bearing {} times; were nothing cured, today's failures came on top, and {}.",
        *(before, new, number(years, 2), old, phrase(as_now, left)),
    )


def few_carry(saving: Estimate, chance: float) -> Iterator[str]:
    """Yield that mean and middle of the saving do not agree on its sign."""
    if saving.p50 < 0.0 < saving.mean:
        yield (
            f"The mean is above zero, yet it pays in {runs(chance)} only: "
            "few rare cases carry it, such as long stops after a seizure."
        )
    if saving.mean < 0.0 < saving.p50:
        yield f"It pays in {runs(chance)}, yet the mean is below zero: few runs lose more than the others save."
