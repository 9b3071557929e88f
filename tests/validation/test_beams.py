"""Beam cases of the handbooks (Shigley, Roark, AISC, Pytel and Kiusalaas) against the shaft solver.

The handbooks have y down, metres and N·m²; `down` turns them into millimetres with y up, once. Results are
compared as the handbooks print them: deflections in m and down, moments in N·m, slopes dy/dx with y up.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from halfbore.numerics.beam import Beam, BeamSolution, Loads, Support, solve, stepped

Compare = Callable[..., None]
EXACT = {"rtol": 1e-9, "why": "closed form, rounding only"}


def down(
    steps: Sequence[tuple[float, float]],
    supports: Sequence[Support],
    forces: Sequence[tuple[float, float]] = (),
    couples: Sequence[tuple[float, float]] = (),
    lines: Sequence[tuple[float, float, float]] = (),
    look_at: Sequence[float] = (),
) -> BeamSolution:
    """Solve a case given in m, N, N·m and N·m² with forces down: steps (length, EI), lines (from, to, w)."""
    places = [x for x, _ in [*forces, *couples]] + [x for line in lines for x in line[:2]]
    places += [s.x / 1e3 for s in supports] + list(look_at)
    lengths, EI = np.array(steps).T
    beam = stepped(lengths * 1e3, EI * 1e6, np.array(places) * 1e3)
    table = np.array([(x * 1e3, -F, 0.0) for x, F in forces] + [(x * 1e3, 0.0, C * 1e3) for x, C in couples])
    table = table.reshape(-1, 3)
    w = sum((_line(beam, *line) for line in lines), np.zeros(beam.EI.size))
    return solve(beam, Loads(table[:, 0], [table[:, 1]], [table[:, 2]], w), supports)


def _line(beam: Beam, start: float, end: float, w: float) -> np.ndarray:
    return beam.per_element([start * 1e3, end * 1e3], [-w / 1e3])


def y(solution: BeamSolution, x: float) -> float:
    """Return the deflection at x (m), down (m)."""
    return -float(solution.at(x * 1e3).deflection[0, 0]) / 1e3


def slope(solution: BeamSolution, x: float) -> float:
    return float(solution.at(x * 1e3).slope[0, 0])


def moment(solution: BeamSolution, x: float) -> float:
    """Return the moment at x (m), positive where the beam sags (N·m)."""
    return float(solution.at(x * 1e3).moment[0, 0]) / 1e3


def pins(*places: float) -> list[Support]:
    return [Support(x * 1e3) for x in places]


def test_bc01_central_load(compare: Compare) -> None:
    s = down([(2.0, 5e4)], pins(0, 2), [(1.0, 1e4)])
    of = {"source": "Shigley, table A-9, case 5", "status": "read", **EXACT}
    compare("simple beam, central load: reaction [N]", s.reaction[0, 0], 5000.0, **of)
    compare("simple beam, central load: reaction B [N]", s.reaction[0, 1], 5000.0, **of)
    compare("simple beam, central load: deflection [m]", y(s, 1.0), 0.03333333333333333, **of)
    compare("simple beam, central load: end slope", slope(s, 0.0), -0.05, **of)
    compare("simple beam, central load: largest moment [N·m]", moment(s, 1.0), 5000.0, **of)


def test_bc02_load_off_centre(compare: Compare) -> None:
    s = down([(2.0, 5e4)], pins(0, 2), [(0.6, 1e4)])
    read = {"source": "Shigley, table A-9, case 6", "status": "read", **EXACT}
    memory = {"source": "Shigley, table A-9, case 6; Roark", "status": "from memory", **EXACT}
    compare("simple beam, load off centre: reaction A [N]", s.reaction[0, 0], 7000.0, **read)
    compare("simple beam, load off centre: reaction B [N]", s.reaction[0, 1], 3000.0, **read)
    compare("simple beam, load off centre: deflection at the load [m]", y(s, 0.6), 0.02352, **memory)
    compare("simple beam, load off centre: slope A", slope(s, 0.0), -0.0476, **memory)
    compare("simple beam, load off centre: slope B", slope(s, 2.0), 0.0364, **memory)
    compare(
        "simple beam, load off centre: largest deflection [m]",
        y(s, 0.8984858905427795),
        0.026730075722828553,
        **memory,
    )
    compare(
        "simple beam, load off centre: slope at the largest deflection",
        slope(s, 0.8984858905427795),
        0.0,
        atol=1e-12,
        source=memory["source"],
        status="from memory",
        why="zero, compared with slopes of 0.05",
    )


def test_bc03_uniform_load(compare: Compare) -> None:
    s = down([(2.0, 5e4)], pins(0, 2), lines=[(0.0, 2.0, 4000.0)])
    of = {"source": "Shigley, table A-9, case 7", "status": "read", **EXACT}
    compare("simple beam, uniform load: reaction [N]", s.reaction[0, 0], 4000.0, **of)
    compare("simple beam, uniform load: deflection [m]", y(s, 1.0), 0.016666666666666666, **of)
    compare("simple beam, uniform load: end slope", slope(s, 2.0), 0.02666666666666667, **of)
    compare("simple beam, uniform load: largest moment [N·m]", moment(s, 1.0), 2000.0, **of)


def test_bc04_end_couple(compare: Compare) -> None:
    s = down([(2.0, 5e4)], pins(0, 2), couples=[(0.0, -3000.0)])
    of = {"source": "beam with an end couple, handbooks", "status": "from memory", **EXACT}
    compare("simple beam, end couple: reaction A [N]", s.reaction[0, 0], -1500.0, **of)
    compare("simple beam, end couple: reaction B [N]", s.reaction[0, 1], 1500.0, **of)
    compare("simple beam, end couple: slope A", slope(s, 0.0), -0.04, **of)
    compare("simple beam, end couple: slope B", slope(s, 2.0), 0.02, **of)
    compare(
        "simple beam, end couple: largest deflection [m]",
        y(s, 0.8452994616207483),
        0.015396007178390021,
        **of,
    )


def test_bc05_overhang_end_load(compare: Compare) -> None:
    s = down([(1.6, 5e4)], pins(0, 1.2), [(1.6, 6000.0)])
    of = {"source": "Shigley, table A-9, case 10; Roark", "status": "from memory", **EXACT}
    compare("overhang, end load: reaction A [N]", s.reaction[0, 0], -2000.0, **of)
    compare("overhang, end load: reaction B [N]", s.reaction[0, 1], 8000.0, **of)
    compare("overhang, end load: tip [m]", y(s, 1.6), 0.01024, **of)
    compare("overhang, end load: slope A", slope(s, 0.0), 0.0096, **of)
    compare("overhang, end load: slope B", slope(s, 1.2), -0.0192, **of)
    compare("overhang, end load: slope at the tip", slope(s, 1.6), -0.0288, **of)
    compare("overhang, end load: largest uplift [m]", -y(s, 0.6928203230275509), 0.004434050067376326, **of)


def test_bc06_overhang_uniform_load(compare: Compare) -> None:
    s = down([(1.6, 5e4)], pins(0, 1.2), lines=[(1.2, 1.6, 5000.0)])
    of = {"source": "AISC beam tables", "status": "from memory", **EXACT}
    compare("overhang, uniform load: reaction A [N]", s.reaction[0, 0], -333.33333333333337, **of)
    compare("overhang, uniform load: reaction B [N]", s.reaction[0, 1], 2333.3333333333335, **of)
    compare("overhang, uniform load: tip [m]", y(s, 1.6), 0.0016, **of)
    compare("overhang, uniform load: slope B", slope(s, 1.2), -0.0032, **of)


def test_bc07_two_equal_spans_uniform_load(compare: Compare) -> None:
    s = down([(4.0, 5e4)], pins(0, 2, 4), lines=[(0.0, 4.0, 3000.0)])
    of = {"source": "AISC beam tables", "status": "from memory"}
    for i, (place, force) in enumerate([("A", 2250.0), ("B", 7500.0), ("C", 2250.0)]):
        compare(
            f"two equal spans, uniform load: reaction {place} [N]", s.reaction[0, i], force, **of, **EXACT
        )
    compare("two equal spans, uniform load: moment at B [N·m]", moment(s, 2.0), -1500.0, **of, **EXACT)
    compare(
        "two equal spans, uniform load: deflection at 0.4215 L [m]",
        y(s, 0.843),
        0.005199456,
        rtol=1e-4,
        why="the coefficient 0.005416 has four digits",
        **of,
    )


def test_bc08_two_equal_spans_one_load(compare: Compare) -> None:
    s = down([(4.0, 5e4)], pins(0, 2, 4), [(1.0, 8000.0)])
    of = {"source": "AISC beam tables", "status": "from memory", **EXACT}
    for i, (place, force) in enumerate([("A", 3250.0), ("B", 5500.0), ("C", -750.0)]):
        compare(f"two equal spans, one load: reaction {place} [N]", s.reaction[0, i], force, **of)
    compare("two equal spans, one load: moment at B [N·m]", moment(s, 2.0), -1500.0, **of)
    compare("two equal spans, one load: deflection at the load [m]", y(s, 1.0), 0.019166666666666665, **of)


def test_bc09_two_unequal_spans(compare: Compare) -> None:
    s = down([(3.7, 5e4)], pins(0, 1.5, 3.7), [(0.6, 5000.0), (2.6, 9000.0)], lines=[(0.0, 3.7, 800.0)])
    of = {"source": "Clapeyron's theorem of three moments", "status": "computed", **EXACT}
    compare("two unequal spans: moment at B [N·m]", moment(s, 1.5), -3097.2432432432433, **of)
    forces = [("A", 1535.1711711711712), ("B", 11452.666666666668), ("C", 3972.1621621621616)]
    for i, (place, force) in enumerate(forces):
        compare(f"two unequal spans: reaction {place} [N]", s.reaction[0, i], force, **of)


def test_bc10_support_out_of_line(compare: Compare) -> None:
    s = down([(4.0, 5e4)], [Support(0.0), Support(2000.0, height=-0.5), Support(4000.0)])
    of = {"source": "theorem of three moments with settlement", "status": "computed", **EXACT}
    compare("middle support 0.5 mm low: moment at B [N·m]", moment(s, 2.0), 18.75, **of)
    for i, (place, force) in enumerate([("A", 9.375), ("B", -18.75), ("C", 9.375)]):
        compare(f"middle support 0.5 mm low: reaction {place} [N]", s.reaction[0, i], force, **of)


def test_bc11_cantilever(compare: Compare) -> None:
    clamp = [Support(0.0, tilting_stiffness=np.inf)]
    end = down([(0.8, 5e4)], clamp, [(0.8, 2000.0)])
    line = down([(0.8, 5e4)], clamp, lines=[(0.0, 0.8, 1500.0)])
    of = {"source": "Shigley, table A-9, cases 1 and 3", "status": "read", **EXACT}
    compare("cantilever, end load: tip [m]", y(end, 0.8), 0.006826666666666668, **of)
    compare("cantilever, end load: slope at the tip", slope(end, 0.8), -0.0128, **of)
    compare("cantilever, uniform load: tip [m]", y(line, 0.8), 0.001536, **of)
    compare("cantilever, uniform load: slope at the tip", slope(line, 0.8), -0.00256, **of)


def rigidity(diameter: float) -> float:
    """Return EI of a round steel shaft, E 206 GPa, diameter in m (N·m²)."""
    return 206e9 * np.pi / 64 * diameter**4


def test_bc12_stepped_shaft(compare: Compare) -> None:
    steps = [(0.3, rigidity(0.05)), (0.4, rigidity(0.07)), (0.3, rigidity(0.05))]
    s = down(steps, pins(0, 1), [(0.5, 1e4)])
    of = {"source": "stepped shaft, unit-load integral", "status": "computed", **EXACT}
    compare("stepped shaft: reaction [N]", s.reaction[0, 0], 5000.0, **of)
    compare("stepped shaft: deflection at the middle [m]", y(s, 0.5), 0.0013847625804810028, **of)
    compare("stepped shaft: deflection at 0.25 m [m]", y(s, 0.25), 0.0010958857260437102, **of)
    compare("stepped shaft: slope A", slope(s, 0.0), -0.00520764616937488, **of)


def test_bc13_stepped_overhung_shaft(compare: Compare) -> None:
    steps = [(0.2, rigidity(0.06)), (0.7, rigidity(0.075)), (0.4, rigidity(0.055))]
    s = down(steps, pins(0, 1), [(0.5, 4000.0), (1.3, 3000.0)])
    of = {
        "source": "stepped overhung shaft, beam elements; reactions by statics",
        "status": "computed",
        **EXACT,
    }
    compare("stepped overhung shaft: reaction A [N]", s.reaction[0, 0], 1100.0, **of)
    compare("stepped overhung shaft: reaction B [N]", s.reaction[0, 1], 5900.0, **of)
    compare("stepped overhung shaft: tip [m]", y(s, 1.3), 0.0005005591077594417, **of)
    compare("stepped overhung shaft: deflection at 0.5 m [m]", y(s, 0.5), 7.76851307425303e-05, **of)
    compare("stepped overhung shaft: slope A", slope(s, 0.0), -0.0003713040373381319, **of)
    compare("stepped overhung shaft: slope B", slope(s, 1.0), -0.000695884746011265, **of)


def test_bx01_pytel_example_6_3(compare: Compare) -> None:
    EI = 12e9 * 0.04 * 0.08**3 / 12
    s = down([(3.0, EI)], pins(0, 3), [(2.0, 300.0)])
    of = {"source": "Pytel and Kiusalaas, Mechanics of Materials, example 6.3", "status": "read"}
    printed = {"why": "printed to three digits", **of}
    compare("example 6.3: EI [N·m²]", EI, 20480.0, **of, **EXACT)
    compare("example 6.3: reaction A [N]", s.reaction[0, 0], 100.0, **of, **EXACT)
    compare("example 6.3: reaction C [N]", s.reaction[0, 1], 200.0, **of, **EXACT)
    compare("example 6.3: largest deflection [mm]", y(s, 1.633) * 1e3, 7.09, atol=0.005, **printed)
    compare("example 6.3: slope A [°]", -np.degrees(slope(s, 0.0)), 0.373, atol=0.0005, **printed)
    compare(
        "example 6.3: slope C [°]",
        np.degrees(slope(s, 3.0)),
        0.466274247339537,
        rtol=1e-9,
        source=of["source"],
        status="computed",
        why="the read copy has a digit swapped; recomputed",
    )


def test_bx02_pytel_example_6_10(compare: Compare) -> None:
    """Feet and pounds in place of m and N: the bending equation does not mind, and EI is taken as 1000."""
    s = down([(14.0, 1000.0)], pins(0, 10), [(4.0, 150.0), (14.0, 30.0)])
    of = {"source": "Pytel and Kiusalaas, Mechanics of Materials, example 6.10", "status": "read", **EXACT}
    compare("example 6.10: reaction A [lb]", s.reaction[0, 0], 78.0, **of)
    compare("example 6.10: reaction C [lb]", s.reaction[0, 1], 102.0, **of)
    compare("example 6.10: EI × tip, up [lb·ft³]", -1000.0 * y(s, 14.0), 1120.0, **of)
