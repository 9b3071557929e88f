"""Activity networks with published answers: critical paths, PERT, crashing."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from statistics import NormalDist

import numpy as np

from halfbore.numerics.network import (
    CriticalPath,
    Network,
    critical_path,
    forward,
    network,
    pert_mean,
    pert_variance,
)

HILLIER = "Hillier and Lieberman, Introduction to Operations Research, Reliable Construction Co."
HEIZER = "Heizer and Render, Operations Management, Milwaukee Paper"
TAYLOR = "Taylor, Introduction to Management Science, chapter 8, first tabulated network"
PERT_VIGNETTE = "critpath (R package), vignette, data set pertexample1"
LESS_VIGNETTE = "critpath (R package), vignette, data set lessexample1"
CONFIRMED = "from memory, confirmed"

Estimates = dict[str, tuple[list[str], float, float, float]]

RELIABLE: Estimates = {
    "A": ([], 1, 2, 3),
    "B": (["A"], 2, 3.5, 8),
    "C": (["B"], 6, 9, 18),
    "D": (["C"], 4, 5.5, 10),
    "E": (["C"], 1, 4.5, 5),
    "F": (["E"], 4, 4, 10),
    "G": (["D"], 5, 6.5, 11),
    "H": (["E", "G"], 5, 8, 17),
    "I": (["C"], 3, 7.5, 9),
    "J": (["F", "I"], 3, 9, 9),
    "K": (["J"], 4, 4, 4),
    "L": (["J"], 1, 5.5, 7),
    "M": (["H"], 1, 2, 3),
    "N": (["K", "L"], 5, 5.5, 9),
}
MILWAUKEE: Estimates = {
    "A": ([], 1, 2, 3),
    "B": ([], 2, 3, 4),
    "C": (["A"], 1, 2, 3),
    "D": (["A", "B"], 2, 4, 6),
    "E": (["C"], 1, 4, 7),
    "F": (["C"], 1, 2, 9),
    "G": (["D", "E"], 3, 4, 11),
    "H": (["F", "G"], 1, 2, 3),
}
PERT_ARCS = {
    "A": (1, 2, 3, 5, 7),
    "B": (2, 3, 5, 7, 9),
    "C": (3, 4, 5, 5, 8),
    "D": (3, 5, 1, 6, 8),
    "E": (3, 6, 6, 8, 10),
    "F": (4, 7, 2, 6, 7),
    "G": (5, 7, 5, 6, 7),
    "H": (6, 7, 3, 5, 7),
    "I": (7, 8, 4, 6, 8),
}


def on_arrows(arcs: dict[str, tuple[float, ...]]) -> dict[str, list[str]]:
    """Return for each arrow the arrows that end where it starts."""
    return {name: [n for n, other in arcs.items() if other[1] == arc[0]] for name, arc in arcs.items()}


def solve(tasks: Estimates) -> tuple[Network, CriticalPath, float]:
    """Return the network, its path at the PERT means, and the PERT variance along that path."""
    net = network({name: waits for name, (waits, *_) in tasks.items()})
    low, likely, high = np.array([estimate for _, *estimate in tasks.values()], dtype=float).T
    path = critical_path(net, pert_mean(low, likely, high))
    return net, path, float(np.sum(pert_variance(low, high)[np.isin(net.names, path.critical)]))


def test_reliable_construction(compare: Callable[..., None]) -> None:
    net, path, variance = solve(RELIABLE)
    durations = [2, 4, 10, 6, 4, 5, 7, 9, 7, 8, 4, 5, 2, 6]
    for name, computed, published in zip(
        net.names, path.late_finish - path.late_start, durations, strict=True
    ):
        compare(
            f"PERT mean of activity {name}, weeks",
            computed,
            published,
            rtol=1e-12,
            source=HILLIER,
            status="from memory, confirmed" if name == "H" else "read",
        )
    compare("project, weeks", path.total, 44, rtol=1e-12, source=HILLIER, status=CONFIRMED)
    compare("PERT variance, weeks²", variance, 9, rtol=1e-12, source=HILLIER, status=CONFIRMED)
    compare(
        "chance of 47 weeks or less",
        NormalDist(path.total, variance**0.5).cdf(47),
        0.8413,
        atol=5e-5,
        source=HILLIER,
        status=CONFIRMED,
        why="printed to four digits",
    )
    slack = {"D": 4, "G": 4, "H": 4, "I": 2, "K": 1, "M": 4}
    for name, computed in zip(net.names, path.slack, strict=True):
        compare(
            f"slack of {name}, weeks",
            computed,
            slack.get(name, 0),
            atol=1e-9,
            source=HILLIER,
            status=CONFIRMED,
        )
    assert path.critical == ("A", "B", "C", "E", "F", "J", "L", "N")


def test_milwaukee_paper(compare: Callable[..., None]) -> None:
    net, path, variance = solve(MILWAUKEE)
    compare("project, weeks", path.total, 15, rtol=1e-12, source=HEIZER, status=CONFIRMED)
    compare(
        "PERT variance, weeks²",
        variance,
        3.11,
        atol=0.005,
        source=HEIZER,
        status=CONFIRMED,
        why="printed to two decimals",
    )
    compare(
        "chance of 16 weeks or less",
        NormalDist(path.total, variance**0.5).cdf(16),
        0.7157,
        atol=0.0012,
        source=HEIZER,
        status=CONFIRMED,
        why="the book rounds z to 0.57 before it looks the table up",
    )
    assert path.critical == ("A", "C", "E", "G", "H")
    assert dict(zip(net.names, path.slack, strict=True)) == {
        "A": 0, "B": 1, "C": 0, "D": 1, "E": 0, "F": 6, "G": 0, "H": 0,
    }  # fmt: skip


def test_taylor_early_and_late_times(compare: Callable[..., None]) -> None:
    published = {
        "1-2": (0, 7, 2, 9, 2),
        "1-3": (0, 10, 0, 10, 0),
        "2-4": (7, 13, 9, 15, 2),
        "3-4": (10, 15, 10, 15, 0),
        "3-5": (10, 14, 14, 18, 4),
        "4-5": (15, 18, 15, 18, 0),
        "5-6": (18, 20, 18, 20, 0),
    }
    arcs = {name: tuple(map(int, name.split("-"))) for name in published}
    path = critical_path(network(on_arrows(arcs)), [f - s for s, f, *_ in published.values()])
    columns = {
        "early start": path.early_start,
        "early finish": path.early_finish,
        "late start": path.late_start,
        "late finish": path.late_finish,
        "slack": path.slack,
    }
    for i, (activity, row) in enumerate(published.items()):
        for (what, computed), value in zip(columns.items(), row, strict=True):
            compare(f"{what} of {activity}", computed[i], value, atol=1e-12, source=TAYLOR, status="read")
    compare("project", path.total, 20, rtol=1e-12, source=TAYLOR, status="read")
    assert path.critical == ("1-3", "3-4", "4-5", "5-6")


def test_pert_vignette(compare: Callable[..., None]) -> None:
    waits = on_arrows(PERT_ARCS)
    net, path, variance = solve({name: (waits[name], *arc[2:]) for name, arc in PERT_ARCS.items()})
    law = NormalDist(path.total, variance**0.5)
    printed = "printed to seven digits"
    for what, computed, published in (
        ("mean of the project", law.mean, 31),
        ("standard deviation of the project", law.stdev, 1.490712),
        ("chance of 30 or less", law.cdf(30), 0.2511675),
        ("time kept with a chance of 0.3", law.inv_cdf(0.3), 30.21827),
        ("time kept with a chance of 0.6", law.inv_cdf(0.6), 31.37767),
    ):
        compare(what, computed, published, rtol=3e-7, source=PERT_VIGNETTE, status="read", why=printed)
    for name, computed in zip(net.names, path.slack, strict=True):
        slack = {"C": 2.0, "D": 1.5, "F": 2.0, "G": 1.5}.get(name, 0.0)
        compare(f"slack of {name}", computed, slack, atol=1e-9, source=PERT_VIGNETTE, status="read")
    assert path.critical == ("A", "B", "E", "H", "I")


def test_crashing_by_trying_every_whole_duration(compare: Callable[..., None]) -> None:
    arcs = {  # start, end, normal and crash time, normal and crash cost
        "A": (1, 2, 4, 2, 50, 70),
        "B": (1, 3, 6, 3, 40, 55),
        "C": (2, 3, 2, 1, 20, 24),
        "D": (2, 4, 6, 4, 100, 130),
        "E": (3, 4, 3, 2, 50, 60),
        "F": (3, 5, 3, 3, 25, 25),
        "G": (4, 5, 5, 3, 60, 75),
    }
    normal, crash, cost, crash_cost = np.array([arc[2:] for arc in arcs.values()], dtype=float).T
    tries = np.array(
        list(product(*(np.arange(c, n + 1) for c, n in zip(crash, normal, strict=True)))), dtype=float
    )
    slope = (crash_cost - cost) / np.maximum(normal - crash, 1.0)
    direct = cost.sum() + (normal - tries) @ slope
    length = forward(network(on_arrows(arcs)), tries)[1].max(axis=1)
    for goal, published in zip((15, 14, 13, 12, 11, 10), (620, 612.5, 605, 600, 600, 605), strict=True):
        least = direct[length <= goal].min() + 50 + 15 * goal
        compare(
            f"least total cost of {goal} units of time",
            least,
            published,
            rtol=1e-12,
            source=LESS_VIGNETTE,
            status="read",
            why="with costs linear in time, whole durations reach the optimum of a whole goal",
        )
    compare("shortest project", length.min(), 9, rtol=1e-12, source=LESS_VIGNETTE, status="computed")
