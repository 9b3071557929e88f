"""A specification in words."""

from __future__ import annotations

from halfbore.domain.catalogue import Part
from halfbore.domain.order import Specification
from halfbore.domain.unit import Hand, SealKind, Support

SUPPORTS = {
    Support.PLAIN.word: "plain pedestal",
    Support.SIDE_ENTRY.word: "side-entry pedestal",
    Support.FLANGE.word: "flange",
    Support.TAKE_UP.word: "take-up",
}
SEALS = {
    SealKind.PACKING.word: "packing seal",
    SealKind.LABYRINTH.word: "labyrinth seal",
    SealKind.CLOSED_END.word: "closed end",
}


def describe(s: Specification) -> str:
    """Return a specification in words that hold all that its code holds."""
    whole = f"{s.supplier}, {s.part}"
    if s.part is not Part.UNIT:
        whole += " for the unit"
    role = "locating" if s.locating else "non-locating"
    return (
        f"{whole}: bore {s.size}, row size {s.row_size}, {role}, {support_of(s)}, "
        f"{SEALS[s.seal_left]} at the drive end side, {SEALS[s.seal_right]} at the free end side, "
        f"clearance group {s.clearance}"
    )


def support_of(s: Specification) -> str:
    """Return support and hand in words."""
    side = "" if s.hand == Hand.NONE.word else f", entering from the {s.hand} seen from the drive end"
    return SUPPORTS[s.support] + side
