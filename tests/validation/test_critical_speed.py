"""Critical speeds of the handbooks (Shigley; Sarkar) against the point masses on the exact flexibility."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from halfbore.numerics.beam import Loads, Support, flexibility, solve, stepped
from halfbore.numerics.critical_speed import critical_speed

Compare = Callable[..., None]
E, DENSITY = 207e3, 7850e-9
"""MPa, kg/mm³."""
LUMPED = {"rtol": 1e-7, "why": "the shaft's mass at 80 points"}
CLAMP = {"tilting_stiffness": np.inf}


def bar(diameter: float) -> tuple[float, float]:
    """Return EI (N·mm²) and mass per length (kg/mm) of a round steel bar."""
    area = np.pi / 4 * diameter**2
    return E * area * diameter**2 / 16, DENSITY * area


def rad(speed: float) -> float:
    """Return a speed in r/min as rad/s."""
    return speed * np.pi / 30


def test_cs01_uniform_shaft(compare: Compare) -> None:
    EI, m = bar(50.0)
    speed = critical_speed(stepped([1500.0], [EI]), [Support(0.0), Support(1500.0)], m)
    of = {"source": "Shigley, equation 7-22", "status": "from memory", **LUMPED}
    compare(
        "uniform shaft on two pins: first critical speed [rad/s]", rad(speed.exact), 281.56429714134777, **of
    )
    compare("uniform shaft on two pins: first critical speed [r/min]", speed.exact, 2688.7409812944425, **of)
    assert speed.dunkerley < speed.exact < speed.rayleigh


def test_cs02_central_disc(compare: Compare) -> None:
    EI, _ = bar(60.0)
    beam = stepped([1000.0], [EI], [500.0])
    speed = critical_speed(beam, [Support(0.0), Support(1000.0)], disc_x=[500.0], disc_mass=[80.0])
    of = {"source": "shaft without mass, central disc, √(48EI/ML³)", "status": "read"}
    for name in ("exact", "rayleigh", "dunkerley"):
        compare(
            f"central disc: {name} [rad/s]",
            rad(getattr(speed, name)),
            281.0918462604529,
            rtol=1e-9,
            why="one mass: the three are one",
            **of,
        )


def test_cs03_overhung_disc(compare: Compare) -> None:
    EI, _ = bar(80.0)
    beam = stepped([1250.0], [EI], [900.0])
    speed = critical_speed(beam, [Support(0.0), Support(900.0)], disc_x=[1250.0], disc_mass=[150.0])
    compare(
        "overhung disc [rad/s]",
        rad(speed.exact),
        233.1535557062317,
        rtol=1e-9,
        why="closed form",
        source="shaft without mass, overhung disc, √(3EI/(Ma²(L+a)))",
        status="from memory",
    )


@pytest.mark.parametrize(
    ("ends", "supports", "root"),
    [
        ("fixed-free", [Support(0.0, **CLAMP)], 1.875104),
        ("fixed-fixed", [Support(0.0, **CLAMP), Support(1500.0, **CLAMP)], 4.730041),
        ("fixed-pinned", [Support(0.0, **CLAMP), Support(1500.0)], 3.926602),
        ("pinned-pinned", [Support(0.0), Support(1500.0)], np.pi),
    ],
)
def test_cs04_other_ends(compare: Compare, ends: str, supports: list[Support], root: float) -> None:
    EI, m = bar(50.0)
    speed = critical_speed(stepped([1500.0], [EI]), supports, m)
    found = 1500.0 * (rad(speed.exact) ** 2 * m / (EI * 1e3)) ** 0.25
    compare(
        f"uniform shaft, {ends}: root c of ω = (c/L)²√(EI/m)",
        found,
        root,
        rtol=3e-7,
        why="seven digits of the root",
        source="roots of the frequency equation of a uniform beam",
        status="from memory",
    )
    assert speed.dunkerley < speed.exact < speed.rayleigh


SHIGLEY = "Shigley, 9th edition, example 7-5"
INCH, POUND = 25.4, 4.4482216152605
PLACES, WEIGHTS = np.array([7.0, 20.0]), np.array([35.0, 55.0])
MASSES = WEIGHTS * 0.45359237
PRINTED = {
    "source": SHIGLEY,
    "status": "from memory",
    "rtol": 1.5e-3,
    "why": "three or four digits, hand calculation",
}
KNOWN = {"source": SHIGLEY, "status": "computed", "rtol": 1e-4, "why": "g is 386.1 in/s² there, 386.089 here"}
"""In the units of the example, inches and pounds-force."""
PINS = [Support(0.0), Support(31.0 * INCH)]


def shigley_beam(points: np.ndarray = PLACES) -> tuple[float, object]:
    second_moment = np.pi / 64
    EI = 30e6 * second_moment * POUND * INCH**2
    return second_moment, stepped([31.0 * INCH], [EI], points * INCH)


def test_cs05_influence_coefficients(compare: Compare) -> None:
    second_moment, beam = shigley_beam()
    read = {"source": SHIGLEY, "status": "read", "rtol": 2e-4, "why": "four digits printed"}
    compare("example 7-5: second moment of area [in⁴]", second_moment, 0.04909, **read)
    compare("example 7-5: 6EIl [lbf·in³]", 6 * 30e6 * second_moment * 31.0, 0.2739e9, **read)
    bend = flexibility(beam, PINS, PLACES * INCH).deflection_by_force * POUND / INCH
    for name, found, known, printed in [
        ("δ11", bend[0, 0], 2.0608408837623075e-4, 2.061e-4),
        ("δ22", bend[1, 1], 3.5340383635946597e-4, 3.534e-4),
        ("δ12", bend[0, 1], 2.2236330021845036e-4, 2.224e-4),
        ("δ21", bend[1, 0], 2.2236330021845036e-4, 2.224e-4),
    ]:
        compare(
            f"example 7-5: {name} [in/lbf]",
            found,
            known,
            rtol=1e-9,
            why="closed form",
            source=SHIGLEY,
            status="computed",
        )
        compare(f"example 7-5: {name} as printed [in/lbf]", found, printed, **PRINTED)
    y = bend @ WEIGHTS
    compare("example 7-5: deflection under the first weight [in]", y[0], 0.01945, **PRINTED)
    compare("example 7-5: deflection under the second weight [in]", y[1], 0.02722, **PRINTED)


def test_cs05_two_weights_on_a_light_shaft(compare: Compare) -> None:
    speed = critical_speed(shigley_beam()[1], PINS, disc_x=PLACES * INCH, disc_mass=MASSES)
    compare("example 7-5: Rayleigh [rad/s]", rad(speed.rayleigh), 124.8001519301001, **KNOWN)
    compare("example 7-5: Rayleigh as printed [rad/s]", rad(speed.rayleigh), 124.7, **PRINTED)
    compare("example 7-5: Dunkerley [rad/s]", rad(speed.dunkerley), 120.36494966812745, **KNOWN)
    compare("example 7-5: Dunkerley as printed [rad/s]", rad(speed.dunkerley), 120.3, **PRINTED)
    compare("example 7-5: exact, two masses [rad/s]", rad(speed.exact), 124.67924137497363, **KNOWN)
    assert speed.dunkerley < speed.exact < speed.rayleigh


def test_cs05_each_weight_alone_and_both_at_the_centre(compare: Compare) -> None:
    beam = shigley_beam(np.array([7.0, 15.5, 20.0]))[1]
    for i, known, printed in [(0, 231.36286197593785, 231.4), (1, 140.93956483465604, 140.9)]:
        alone = rad(critical_speed(beam, PINS, disc_x=[PLACES[i] * INCH], disc_mass=[MASSES[i]]).exact)
        compare(f"example 7-5: weight {i + 1} alone [rad/s]", alone, known, **KNOWN)
        compare(f"example 7-5: weight {i + 1} alone as printed [rad/s]", alone, printed, **PRINTED)
    bend = np.diag(flexibility(beam, PINS, np.array([7.0, 15.5, 20.0]) * INCH).deflection_by_force)
    centre = WEIGHTS * bend[[0, 2]] / bend[1]
    read = {"source": SHIGLEY, "status": "read", "atol": 0.05, "why": "one printed decimal"}
    compare("example 7-5: first weight moved to the centre [lbf]", centre[0], 17.1, **read)
    compare("example 7-5: second weight moved to the centre [lbf]", centre[1], 46.1, **read)
    mass = centre.sum() * 0.45359237
    both = rad(critical_speed(beam, PINS, disc_x=[15.5 * INCH], disc_mass=[mass]).exact)
    compare("example 7-5: superposition [rad/s]", both, 120.36494966812745, **KNOWN)
    compare("example 7-5: superposition as printed [rad/s]", both, 120.2, **PRINTED)


def test_cs05_bare_shaft(compare: Compare) -> None:
    line = 0.282 * np.pi / 4 * 0.45359237 / INCH
    bare = rad(critical_speed(shigley_beam()[1], PINS, line).exact)
    compare("example 7-5: bare shaft, 0.282 lbf/in³ [rad/s]", bare, 520.3581253261233, **KNOWN)
    compare("example 7-5: bare shaft as printed [rad/s]", bare, 520.4, **PRINTED)


def test_cs06_speed_from_the_sag(compare: Compare) -> None:
    """The frequency of a disc or of the bare shaft follows from its sag alone: f = 0.4985/√(Σδ + δs/1.27)."""
    g, (EI, m) = 9.81, bar(50.0)
    beam = stepped([1500.0], [EI], [500.0, 750.0])
    supports = [Support(0.0), Support(1500.0)]
    disc_sag = -solve(beam, Loads([500.0], [[-80.0 * g]]), supports).at(500.0).deflection[0, 0] / 1e3
    shaft_sag = -solve(beam, Loads(distributed=-m * g), supports).at(750.0).deflection[0, 0] / 1e3
    disc = critical_speed(beam, supports, disc_x=[500.0], disc_mass=[80.0]).exact / 60
    shaft = critical_speed(beam, supports, m).exact / 60
    of = {
        "source": "Sarkar, Theory of Machines, chapter 11",
        "status": "read",
        "why": "rounding of 0.4985 and 1.27",
    }
    compare("frequency of a disc × √sag [Hz·√m]", disc * np.sqrt(disc_sag), 0.4985, rtol=5e-5, **of)
    compare(
        "frequency of the bare shaft × √(sag/1.27)",
        shaft * np.sqrt(shaft_sag / 1.27),
        0.4985,
        rtol=1e-3,
        **of,
    )
    compare(
        "factor of the bare shaft's sag",
        (shaft / (disc * np.sqrt(disc_sag))) ** 2 * shaft_sag,
        1.27,
        rtol=2e-3,
        **of,
    )
