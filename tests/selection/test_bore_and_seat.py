"""Bore against shaft: size, form, joints. Default unit: bore 100 mm, 0 to −54 µm, form 20 µm, joint gap 0.4 mm."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.position import Seat
from halfbore.selection.checks.bore_and_seat import CHECK
from halfbore.selection.relax import relaxations
from halfbore.selection.sweep import sweep
from halfbore.units import INCH, Span
from tests.selection.units import need, table, told

WORN = "a sleeve after turning the shaft down, with the shaft's stress checked, or weld repair and turning"
UNDERSIZE = "a unit bored to the measured seat, or a sleeve after turning the shaft down, with the shaft's stress checked"
FORM = Span(0.008, 0.009, 0.010)


def seat(low: float, high: float | None = None, form: Span | None = FORM, nominal: float = 100.0) -> Seat:
    most = low if high is None else high
    return Seat(Span(low, (low + most) / 2, most), form, nominal)


@pytest.mark.parametrize(
    ("low", "high", "verdict", "used"),
    [
        # Part of the tolerance: deviation over 54 µm; the form uses 8 to 10 of 20 µm.
        (99.970, 99.980, Verdict.HOLDS, (0.4, 30 / 54)),
        (100.000, 100.000, Verdict.HOLDS, (0.4, 0.5)),
        (99.949, 99.960, Verdict.TIGHT, (40 / 54, 51 / 54)),
        (99.946, 99.946, Verdict.TIGHT, (1.0, 1.0)),
        # One reading below the tolerance, the other inside: fails somewhere inside the range.
        (99.940, 99.960, Verdict.TIGHT, (40 / 54, 60 / 54)),
        (99.945, 99.945, Verdict.FAILS, (55 / 54, 55 / 54)),
        # The ring closes on the largest reading: oversize there is oversize.
        (99.970, 100.001, Verdict.FAILS, (1 + 1 / 54, 1 + 1 / 54)),
    ],
)
def test_size_against_the_tolerance(
    low: float, high: float, verdict: Verdict, used: tuple[float, float]
) -> None:
    found = told(CHECK, need(seat=seat(low, high)), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx(used, abs=1e-9)
    assert found.value == Span(low, 0.5 * (low + high), high)
    assert found.limit is not None
    assert (found.limit.low, found.limit.high) == pytest.approx((99.946, 100.0))


@pytest.mark.parametrize(
    ("given", "columns", "reason", "datum"),
    [
        (Seat(None, FORM, 100.0), {}, "the seat was not measured", "by micrometer, from the site"),
        (seat(99.97, form=None), {}, "roundness and taper of the seat", "from the site"),
        (seat(99.97), {"seat_lower": np.nan}, "seat tolerance", "from the supplier"),
        (seat(99.97), {"seat_form": np.nan}, "form tolerance", "from the supplier"),
    ],
)
def test_without_the_datum_it_is_open_and_asks(
    given: Seat, columns: dict[str, Any], reason: str, datum: str
) -> None:
    found = told(CHECK, need(seat=given), table(**columns))
    assert found.verdict is Verdict.NO_DATA
    assert reason in found.reason
    assert datum in found.datum


def test_a_wrong_size_fails_whatever_else_is_not_known() -> None:
    assert told(CHECK, need(seat=seat(99.94, form=None)), table()).verdict is Verdict.FAILS
    assert told(CHECK, need(seat=seat(99.94)), table(seat_form=np.nan)).verdict is Verdict.FAILS
    far = told(CHECK, need(seat=Seat(nominal=100.0)), table(bore=110.0))
    assert far.verdict is Verdict.FAILS
    assert "bore 110.00 mm for a shaft of 100.00 mm" in far.reason


@pytest.mark.parametrize(
    ("low", "bore", "words"),
    [
        (99.900, 100.0, "shaft 100 µm under nominal, 46 µm more than the supplier allows"),
        (100.030, 100.0, "shaft 30 µm over the largest size allowed for a bore of 100.00 mm"),
        (95.0, 100.0, "bore 100.00 mm is 5.0 mm over the shaft"),
        (105.0, 100.0, "bore 100.00 mm is 5.0 mm under the shaft"),
    ],
)
def test_the_reason_ends_with_the_amount(low: float, bore: float, words: str) -> None:
    assert told(CHECK, need(seat=seat(low)), table(bore=bore)).reason == words


def test_form_fails_whatever_the_size_class() -> None:
    found = told(CHECK, need(seat=seat(99.99, form=Span(0.021, 0.023, 0.025))), table())
    assert found.verdict is Verdict.FAILS
    assert found.reason == "roundness and taper 21 to 25 µm of 20 µm"
    assert dict(found.details)["remedy"] == "dress the seat"


@pytest.mark.parametrize("nominal", [4 * INCH + 7 * INCH / 16, 112.71])
def test_one_size_of_two_unit_systems_is_the_same_size(nominal: float) -> None:
    # 4 7/16 in = 112.7125 mm; a table that rounds to 112.71 mm means the same shaft.
    for bore in (112.7125, 112.71):
        unmeasured = told(CHECK, need(seat=Seat(nominal=nominal)), table(bore=bore))
        assert unmeasured.verdict is Verdict.NO_DATA
    assert told(CHECK, need(seat=Seat(nominal=nominal)), table(bore=112.73)).verdict is Verdict.FAILS


def test_an_undersize_shaft_closes_the_joints_until_nothing_grips() -> None:
    # −0.10 mm closes each joint by π/2·0.10 = 0.157 mm, −0.40 mm by 0.628 mm.
    thin, thinner = (told(CHECK, need(seat=seat(d)), table()) for d in (99.90, 99.60))
    assert dict(thin.details)["joint gap that is left"] == "0.24 mm"
    assert dict(thin.details)["grip on the shaft"] == "30 kN"
    assert dict(thin.details)["remedy"] == UNDERSIZE
    assert dict(thinner.details)["joint gap that is left"] == "none: the joint faces have met"
    assert dict(thinner.details)["grip on the shaft"] == "none"
    assert dict(thinner.details)["remedy"] == WORN
    assert thinner.verdict is Verdict.FAILS


def test_a_tolerance_that_lets_the_joints_meet_does_not_hold() -> None:
    # −0.30 mm of −0.50 mm allowed closes 0.471 mm of 0.40 mm.
    found = told(CHECK, need(seat=seat(99.70)), table(seat_lower=-0.5))
    assert found.verdict is Verdict.FAILS
    assert found.used is not None
    assert found.used.high == pytest.approx(np.pi / 2 * 0.3 / 0.4)
    assert found.reason == "shaft 300 µm under nominal closes the joints of the inner ring: no grip is left"


def test_deviations_are_written_with_a_true_minus_and_a_bare_zero() -> None:
    found = told(CHECK, need(seat=seat(99.95)), table())
    assert dict(found.details)["allowed by the supplier"] == "\u221254 to 0 µm"
    assert "\u221254 to 0 µm allowed" in found.reason
    assert "-" not in found.reason


@pytest.mark.parametrize(
    ("given", "words"),
    [
        # 0.8 of 54 µm, and 0.8 of 20 µm.
        (seat(99.89), UNDERSIZE + ": mended seat diameter 99.957 to 100 mm"),
        (seat(99.58), WORN + ": mended seat diameter 99.957 to 100 mm"),
        (seat(100.02), "dress the seat: seat diameter 99.957 to 100 mm"),
        (seat(99.97, form=Span.of(0.05)), "dress the seat: roundness and taper 0.016 mm"),
        (
            seat(99.58, form=Span.of(0.05)),
            WORN + ": mended seat diameter 99.957 to 100 mm; roundness and taper 0.016 mm",
        ),
    ],
)
def test_what_would_let_a_unit_in_is_a_mended_seat(given: Seat, words: str) -> None:
    asked = need(seat=given)
    assert told(CHECK, asked, table()).verdict is Verdict.FAILS
    (found,) = relaxations(asked, sweep(asked, table()))
    assert found.checks == ("bore and seat",)
    assert found.would_be == words


def test_no_seat_is_mended_for_another_size_or_on_a_guess() -> None:
    assert CHECK.relax(need(seat=seat(99.89)), table(bore=90.0)) == ()
    assert CHECK.relax(need(seat=Seat(None, FORM, 100.0)), table()) == ()
    assert CHECK.relax(need(seat=seat(99.97)), table()) == ()
