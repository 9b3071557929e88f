"""ISO 15243:2017, damage and failures: the terms, with what they look like in our own words."""

from __future__ import annotations

from enum import Enum

from halfbore.sources import Source, Status

SOURCE = Source(
    "ISO 15243:2017",
    "clause 5",
    Status.FROM_MEMORY,
    "rolling contact fatigue was read in the contents; the other terms are remembered",
)


class DamageGroup(Enum):
    """The six groups of damage modes."""

    FATIGUE = "rolling contact fatigue"
    WEAR = "wear"
    CORROSION = "corrosion"
    ELECTRICAL_EROSION = "electrical erosion"
    PLASTIC_DEFORMATION = "plastic deformation"
    CRACKING_AND_FRACTURE = "cracking and fracture"


class DamageMode(Enum):
    """A damage mode: its term, its group and how it shows on the part."""

    def __init__(self, term: str, group: DamageGroup, looks_like: str) -> None:
        self.term = term
        self.group = group
        self.looks_like = looks_like

    SUBSURFACE_FATIGUE = (
        "subsurface initiated fatigue",
        DamageGroup.FATIGUE,
        "pits with clean edges that grow along the loaded part of the raceway after long running",
    )
    SURFACE_FATIGUE = (
        "surface initiated fatigue",
        DamageGroup.FATIGUE,
        "a dull raceway with fine cracks and shallow flakes, from a thin oil film or dents",
    )
    ABRASIVE_WEAR = (
        "abrasive wear",
        DamageGroup.WEAR,
        "grey, scratched surfaces and grown clearance, from hard particles",
    )
    ADHESIVE_WEAR = (
        "adhesive wear",
        DamageGroup.WEAR,
        "smeared, torn or welded patches where rollers slid under too little load or oil",
    )
    MOISTURE_CORROSION = (
        "moisture corrosion",
        DamageGroup.CORROSION,
        "rust or dark marks, often at roller spacing, where water stood",
    )
    FRETTING_CORROSION = (
        "fretting corrosion",
        DamageGroup.CORROSION,
        "red or black powder between ring and seat that moved against each other",
    )
    FALSE_BRINELLING = (
        "false brinelling",
        DamageGroup.CORROSION,
        "shallow hollows at roller spacing, from vibration while the shaft stood",
    )
    EXCESSIVE_CURRENT = (
        "excessive current erosion",
        DamageGroup.ELECTRICAL_EROSION,
        "craters with melted edges, from a current that was too strong",
    )
    CURRENT_LEAKAGE = (
        "current leakage erosion",
        DamageGroup.ELECTRICAL_EROSION,
        "a dull raceway with close, even bars across it and darkened grease",
    )
    OVERLOAD = (
        "overload deformation",
        DamageGroup.PLASTIC_DEFORMATION,
        "dents at roller spacing, from a shock or too high a load at rest",
    )
    INDENTATION = (
        "indentations from particles",
        DamageGroup.PLASTIC_DEFORMATION,
        "many small dents spread over the raceway, from particles that were rolled over",
    )
    FORCED_FRACTURE = (
        "forced fracture",
        DamageGroup.CRACKING_AND_FRACTURE,
        "a rough break in one go, from a blow or too tight a fit",
    )
    FATIGUE_FRACTURE = (
        "fatigue fracture",
        DamageGroup.CRACKING_AND_FRACTURE,
        "a break with growth lines, from bending that came again and again",
    )
    THERMAL_CRACKING = (
        "thermal cracking",
        DamageGroup.CRACKING_AND_FRACTURE,
        "fine cracks across the direction of sliding, from frictional heat",
    )
