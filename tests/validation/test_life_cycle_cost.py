"""Life-cycle cost: worked examples of a textbook, and the measures of an investment."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from halfbore.numerics.cash_flow import (
    adjusted_rate_of_return,
    annual_equivalent,
    annuity_factor,
    capital_recovery_factor,
    discounted_payback,
    internal_rate_of_return,
    net_present_value,
    net_savings,
    savings_to_investment,
    simple_payback,
)
from halfbore.numerics.renewal import renewal_function

BOOK = "Panneerselvam, Engineering Economics, example "
DIGITS = "half of the last printed digit"
FACTORS = "the book works with factors of four digits"
HANDBOOK = "NIST Handbook 135 and 10 CFR 436.22, measures on a case made for the purpose"
NPF = "numpy-financial documentation"


def test_4_1_present_worth(compare: Callable[..., None]) -> None:
    machines = ((1.2e6, 4e5, 476988.834), (2e6, 6e5, 515483.251), (1.8e6, 5e5, 296236.043))
    for cost, gain, published in machines:
        worth = net_present_value([-cost] + [gain] * 10, 0.2)
        compare(
            f"worth of {cost:g}", worth, published, atol=5e-4, source=f"{BOOK}4.1", status="read", why=DIGITS
        )


def test_4_3_uneven_flows(compare: Callable[..., None]) -> None:
    flows = np.array([[-10000, 3000, 3000, 7000, 6000], [-10000, 6000, 6000, 3000, 3000]])
    for i, published in enumerate((2052.076, 2767.112)):
        worth = net_present_value(flows, 0.18)[i]
        compare(f"plan {i + 1}", worth, published, atol=5e-4, source=f"{BOOK}4.3", status="read", why=DIGITS)


@pytest.mark.parametrize(
    ("example", "rate", "years", "offers"),
    [
        (
            "6.2",
            0.2,
            15.0,
            ((5e5, 0, 2e5, 306941.06), (4e5, 0, 3e5, 385552.848), (6e5, 0, 1.5e5, 278329.272)),
        ),
        ("6.8", 0.15, 4.0, ((3e5, 2e5, 3e4, 95026.535), (6e5, 3e5, 0, 150079.605))),
        ("8.4", 0.12, 6.0, ((1.2e5, 2.5e4, 2.5e4, 51106.443), (1.5e5, 2e4, 1.4e4, 48019.343))),
    ],
)
def test_yearly_cost(
    compare: Callable[..., None],
    example: str,
    rate: float,
    years: float,
    offers: tuple[tuple[float, float, float, float], ...],
) -> None:
    for first, salvage, yearly, published in offers:
        computed = annual_equivalent(first, salvage, yearly, rate, years)
        what, source = f"yearly cost of {first:g}", BOOK + example
        compare(what, computed, published, atol=6e-4, source=source, status="read", why=DIGITS)


def test_7_1_rate_of_return(compare: Callable[..., None]) -> None:
    flows = [-100000.0] + [30000.0] * 5
    worth = {rate: float(net_present_value(flows, rate)) for rate in (0.10, 0.15, 0.18)}
    for (rate, computed), published in zip(worth.items(), (13723.603, 564.653, -6184.869), strict=True):
        what = f"worth at {rate:.0%}"
        compare(what, computed, published, atol=5e-4, source=f"{BOOK}7.1", status="read", why=DIGITS)
    straight = 0.15 + 0.03 * worth[0.15] / (worth[0.15] - worth[0.18])
    compare(
        "rate on a straight line between 15 and 18 %",
        straight,
        0.15251,
        atol=5e-6,
        source=f"{BOOK}7.1",
        status="read",
        why=DIGITS,
    )
    compare(
        "exact rate of return",
        internal_rate_of_return(flows),
        0.152382371,
        atol=1e-9,
        source=f"{BOOK}7.1",
        status="computed",
    )


@pytest.mark.parametrize(
    ("rate", "life", "yearly", "rtol", "why"),
    [
        (0.0, 6, (4000, 2100, 1533.33, 1300, 1200, 1166.67, 1171.43), 4e-6, DIGITS),
        (
            0.12,
            7,
            (4480.0, 2461.14, 1850.1, 1588.54, 1464.5, 1407.15, 1386.65, 1387.83, 1402.36, 1425.0),
            2e-4,
            FACTORS,
        ),
    ],
)
def test_8_1_economic_life(
    compare: Callable[..., None], rate: float, life: int, yearly: tuple[float, ...], rtol: float, why: str
) -> None:
    computed = []
    for years, published in enumerate(yearly, start=1):
        flows = [4000.0] + [200.0 * k for k in range(years)]
        equal = net_present_value(flows, rate) * capital_recovery_factor(rate, float(years))
        computed.append(float(equal))
        compare(
            f"yearly cost when kept {years} years at {rate:.0%}",
            equal,
            published,
            rtol=rtol,
            source=f"{BOOK}8.1",
            status="read",
            why=why,
        )
    assert int(np.argmin(computed)) + 1 == life


def test_8_9_group_or_individual_renewal(compare: Callable[..., None]) -> None:
    life = np.array([0.07, 0.11, 0.12, 0.18, 0.21, 0.20, 0.11])
    good = 1.0 - np.append(0.0, life.cumsum())
    failures = 100.0 * renewal_function(lambda t: good[np.floor(t).astype(int)], 7.0, steps=7)
    mean = float(life @ np.arange(1, 8))
    week = np.arange(1, 8)
    group = (100 * 3 + 9 * failures[1:]) / week
    whole = "the book rounds expected failures up to whole items"
    source = f"{BOOK}8.9"
    compare("mean life, weeks", mean, 4.39, rtol=1e-12, source=source, status="read")
    compare(
        "best group cost a week", group.min(), 196.50, rtol=0.0102, source=source, status="read", why=whole
    )
    compare(
        "individual cost a week", 9 * 100 / mean, 207, rtol=0.0097, source=source, status="read", why=whole
    )
    compare("best period, weeks", week[group.argmin()], 4, atol=0.0, rtol=1e-12, source=source, status="read")
    exact = [363.0, 233.205, 196.1929, 194.51640225, 203.503489926, 213.60444707735, 214.928418044541]
    for k, computed, published in zip(week, group, exact, strict=True):
        what = f"group cost a week, exact, every {k} weeks"
        compare(what, computed, published, rtol=1e-12, source=source, status="computed")


def test_library_examples(compare: Callable[..., None]) -> None:
    compare(
        "rate of return of -250 000, 100 000, 150 000, ... 300 000",
        internal_rate_of_return([-250000, 100000, 150000, 200000, 250000, 300000]),
        0.5672303344358536,
        rtol=1e-12,
        source=NPF,
        status="read",
        why="where the root finder stops",
    )
    for what, computed, published, atol in (
        (
            "rate of return of -100, 39, 59, 55, 20",
            internal_rate_of_return([-100, 39, 59, 55, 20]),
            0.28095,
            5e-6,
        ),
        (
            "worth of -40 000, 5000, 8000, 12 000, 30 000 at 8 %",
            net_present_value([-40000, 5000, 8000, 12000, 30000], 0.08),
            3065.22267,
            5e-6,
        ),
        (
            "payment on 200 000 over 15 years at 7.5 %, monthly",
            200000 * capital_recovery_factor(0.075 / 12, 180.0),
            1854.0247200054619,
            1e-9,
        ),
    ):
        status = "from memory, confirmed"
        compare(what, computed, published, atol=atol, source=NPF, status=status, why=DIGITS)


def test_measures_of_an_investment(compare: Callable[..., None]) -> None:
    investment, saving, rate, years = 7000.0, 2400.0, 0.03, 20.0
    uniform = annuity_factor(rate, years)
    ratio = savings_to_investment(saving * uniform, investment)
    for what, computed, published in (
        ("uniform present value factor", uniform, 14.877474860455516),
        ("net savings", net_savings(saving * uniform, investment), 28705.93966509324),
        ("savings-to-investment ratio", ratio, 5.100848523584748),
        (
            "adjusted internal rate of return",
            adjusted_rate_of_return(ratio, rate, years),
            0.11742747647958574,
        ),
        ("simple payback, years", simple_payback(investment, saving), 2.9166666666666665),
        ("discounted payback, years", discounted_payback(investment, saving, rate), 3.0977978328497424),
    ):
        compare(what, computed, published, rtol=1e-12, source=HANDBOOK, status="computed")


@pytest.mark.parametrize(
    ("rate", "periods", "factor"),
    [
        (0.03, 20.0, 0.06721570759685909),
        (0.05, 10.0, 0.12950457496545661),
        (0.08, 15.0, 0.11682954493601999),
        (0.10, 3.0, 0.40211480362537727),
        (0.15, 7.0, 0.2403603636106115),
    ],
)
def test_capital_recovery_table(
    compare: Callable[..., None], rate: float, periods: float, factor: float
) -> None:
    compare(
        f"capital recovery factor at {rate:.0%} over {periods:g} periods",
        capital_recovery_factor(rate, periods),
        factor,
        rtol=1e-12,
        source="capital recovery factor i(1+i)^n/((1+i)^n - 1)",
        status="computed",
    )
