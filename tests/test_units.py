"""The unit grammar: what is read, what is refused and how, and that nothing else can happen."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import UnitError
from halfbore.units import INTERNAL, TEXT_LIMIT, Kind, Span, convert, parse, parse_money, parse_span, units_of

L, F, T, M = Kind.LENGTH, Kind.FORCE, Kind.TEMPERATURE, Kind.MASS


def refusal(text, kind, **more):
    with pytest.raises(UnitError) as caught:
        parse(text, kind, "shaft.length", **more)
    return caught.value.problems[0]


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("125 mm", 125.0),
        ("125mm", 125.0),
        ("  125 mm  ", 125.0),
        ("4 15/16 in", 125.4125),
        ('4-15/16"', 125.4125),
        ("4  15/16 in.", 125.4125),
        ("15/16 in", 23.8125),
        ("4.4375 in", 112.7125),
        ("4.250 in", 107.95),
        (".5 in", 12.7),
        ("4½ in", 114.3),
        ("4-½ in", 114.3),
        ("½″", 12.7),
        ("4 15⁄16 in", 125.4125),
        ("112,7 mm", 112.7),
        ("0,125 mm", 0.125),
        ("1234,567 mm", 1234.567),
        ("1.250 mm", 1.25),
        ("1 200 mm", 1200.0),
        ("1\u00a0200 mm", 1200.0),
        ("1\u2009200\u202f000 mm", 1_200_000.0),
        ("1 200,5 mm", 1200.5),
        ("1 200,500 mm", 1200.5),
        ("1 200.5 mm", 1200.5),
        ("1,200.5 mm", 1200.5),
        ("1.200,5 mm", 1200.5),
        ("1.200.500 mm", 1_200_500.0),
        ("1,200,500 mm", 1_200_500.0),
        ("1.2e3 mm", 1200.0),
        ("1e+06 mm", 1e6),
        ("-450 mm", -450.0),
        ("\u2212450 mm", -450.0),
        ("- 450 mm", -450.0),
        ("+450 mm", 450.0),
        ("-4 15/16 in", -125.4125),
        ("\uff14 \uff11\uff15/\uff11\uff16 \uff49\uff4e", 125.4125),
        ("12'", 3657.6),
        ('12"', 304.8),
        ("12\u2032", 3657.6),
        ("12\u2033", 304.8),
        ("12\u201d", 304.8),
        ("12''", 304.8),
        ("6 ft 2 in", 1879.6),
        ("6' 2\"", 1879.6),
        ("6'2\"", 1879.6),
        ("-6' 2 1/2\"", -1892.3),
        ("25 µm", 0.025),
        ("25 \u03bcm", 0.025),
        ("25 um", 0.025),
        ("5 thou", 0.127),
        ("5 mils", 0.127),
        ("1.6 m", 1600.0),
        ("125 MM", 125.0),
        ("5 IN", 127.0),
        ("1\u200b25 mm\ufeff", 125.0),
    ],
)
def test_a_length_is_read(text, mm):
    assert parse(text, L) == pytest.approx(mm, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("350 lb", F, 1556.8775653411749),
        ("350 lbf", F, 1556.8775653411749),
        ("350 lb", M, 158.7573295),
        ("100 kgf", F, 980.665),
        ("100 kp", F, 980.665),
        ("1.8 KN", F, 1800.0),
        ("2 kip", F, 8896.443230521),
        ("1,5 t", M, 1500.0),
        ("250 g", M, 0.25),
        ("8 oz", M, 0.226796185),
        ("2 lb 3 oz", M, 0.992233309375),
        ("5 mW", Kind.POWER, 0.005),
        ("5 MW", Kind.POWER, 5e6),
        ("75 hp", Kind.POWER, 55927.49036867027),
        ("7 1/2 HP", Kind.POWER, 5592.749036867027),
        ("75 PS", Kind.POWER, 55162.40625),
        ("1 CV", Kind.POWER, 735.49875),
        ("1480 tr/min", Kind.SPEED, 1480.0),
        ("3 15/16 Zoll", Kind.LENGTH, 100.0125),
        ("75 hp (M)", Kind.POWER, 55162.40625),
        ("180 N·m", Kind.TORQUE, 180e3),
        ("180 Nm", Kind.TORQUE, 180e3),
        ("180 N m", Kind.TORQUE, 180e3),
        ("180 N.m", Kind.TORQUE, 180e3),
        ("180 N*m", Kind.TORQUE, 180e3),
        ("180 N-m", Kind.TORQUE, 180e3),
        ("180 Nmm", Kind.TORQUE, 180.0),
        ("2 kNm", Kind.TORQUE, 2e6),
        ("1 lbf·ft", Kind.TORQUE, 1355.8179483314003),
        ("1 ft-lb", Kind.TORQUE, 1355.8179483314003),
        ("1 in.lb", Kind.TORQUE, 112.9848290276167),
        ("1 in.-lb", Kind.TORQUE, 112.9848290276167),
        ("210 GPa", Kind.STRESS, 210e3),
        ("5 Mpa", Kind.STRESS, 5.0),
        ("5 N/mm²", Kind.STRESS, 5.0),
        ("5 N/mm^2", Kind.STRESS, 5.0),
        ("5 bar", Kind.STRESS, 0.5),
        ("30 ksi", Kind.STRESS, 206.8427187950509),
        ("980 rpm", Kind.SPEED, 980.0),
        ("980 r / min", Kind.SPEED, 980.0),
        ("980 1/min", Kind.SPEED, 980.0),
        ("1 200 1/min", Kind.SPEED, 1200.0),
        ("980 min⁻¹", Kind.SPEED, 980.0),
        ("980 min-1", Kind.SPEED, 980.0),
        ("25 Hz", Kind.SPEED, 1500.0),
        ("180 °F", T, 82.22222222222222),
        ("180 F", T, 82.22222222222222),
        ("0 °F", T, -17.77777777777778),
        ("32 deg F", T, 0.0),
        ("-40 °F", T, -40.0),
        ("70 °C", T, 70.0),
        ("70 ° C", T, 70.0),
        ("70 ºC", T, 70.0),
        ("70 ℃", T, 70.0),
        ("70 C", T, 70.0),
        ("273.15 K", T, 0.0),
        ("18 °F", Kind.TEMPERATURE_DIFFERENCE, 10.0),
        ("18 °C", Kind.TEMPERATURE_DIFFERENCE, 18.0),
        ("90 min", Kind.DURATION, 1.5),
        ("1 h 30 min", Kind.DURATION, 1.5),
        ("1 d 2 h", Kind.DURATION, 26.0),
        ("1 week", Kind.DURATION, 168.0),
        ("1 month", Kind.DURATION, 730.0),
        ("10 years", Kind.DURATION, 87_600.0),
        ("220 cSt", Kind.VISCOSITY, 220.0),
        ("220 mm2/s", Kind.VISCOSITY, 220.0),
        ("180 deg", Kind.ANGLE, math.pi),
        ("8 mrad", Kind.ANGLE, 0.008),
        ("30 min of arc", Kind.ANGLE, math.pi / 360),
        ("5° 30' 36\"", Kind.ANGLE, math.radians(5.51)),
        ("85 %", Kind.FRACTION, 0.85),
        ("57%", Kind.FRACTION, 0.57),
        ("0.85", Kind.FRACTION, 0.85),
        ("1/3", Kind.FRACTION, 1 / 3),
        (0.85, Kind.FRACTION, 0.85),
        (3, Kind.COUNT, 3.0),
        ("3", Kind.COUNT, 3.0),
        (1.2, Kind.NUMBER, 1.2),
        ("-1,2", Kind.NUMBER, -1.2),
        ("7.85 g/cm³", Kind.DENSITY, 7850.0),
        ("200 kN/mm", Kind.STIFFNESS, 200e3),
        ("1000 ft/min", Kind.SURFACE_SPEED, 5.08),
        ("15 W/m²K", Kind.CONDUCTANCE, 15.0),
        ("15 W/(m² K)", Kind.CONDUCTANCE, 15.0),
    ],
)
def test_a_quantity_is_read(text, kind, value):
    assert parse(text, kind) == pytest.approx(value, rel=1e-15, abs=1e-13)


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("1,200 mm", L, "two readings"),
        ("1,200e3 mm", L, "two readings"),
        ("4 15/16", L, "no unit"),
        ("4-7/16", L, "no unit"),
        ("125", L, "no unit"),
        (125, L, "no unit"),
        (4.4375, L, "no unit"),
        ("6' 2", L, "no unit"),
        ("4 1/0 in", L, "fraction"),
        ("4 17/16 in", L, "fraction"),
        ("4 16/16 in", L, "fraction"),
        ("11/2 in", L, "fraction"),
        ("4 1/256 in", L, "128ths"),
        ("12 3456 mm", L, "two numbers"),
        ("4 15/61 in", L, "128ths"),
        ("4 15/16 mm", L, "128ths"),
        ("6 ft 14 in", L, "14 in cannot follow"),
        ("6.5 ft 2 in", L, "2 in cannot follow"),
        ("2 in 6 ft", L, "6 ft cannot follow"),
        ("6 ft 20 mm", L, "20 mm cannot follow"),
        ("1e999 mm", L, "too large"),
        ("1e308 m", L, "too large"),
        ("1e-999 mm", L, "too small"),
        ("1O0 mm", L, "'O'"),
        ("l25 mm", L, "does not begin with a number"),
        ("approx 100 mm", L, "does not begin with a number"),
        ("100-120 mm", L, "'-'"),
        ("4 - 15/16 in", L, "'-'"),
        ("5 100 20 mm", L, "two numbers"),
        ("12 34 mm", L, "two numbers"),
        ("1234 567 mm", L, "two numbers"),
        ("1  200 mm", L, "two numbers"),
        ("1 200,300,4 mm", L, "in threes"),
        ("12.34.56 mm", L, "in threes"),
        ("1.20,5 mm", L, "in threes"),
        ("1.2,3.4 mm", L, "in threes"),
        ("12. mm", L, "'.'"),
        (",5 mm", L, "does not begin"),
        ("--5 mm", L, "does not begin"),
        ("+", L, "no number"),
        ("10² mm", L, "not a known unit"),
        ("6ft2in", L, "not a known unit"),
        ("5 m m", L, "not a known unit"),
        ("5 m·m", L, "not a known unit"),
        ("5 мм", L, "not a known unit"),
        ("٥ mm", L, "does not begin"),
        ("0x10 mm", L, "not a known unit"),
        ("1_000 mm", L, "not a known unit"),
        ("inf mm", L, "does not begin"),
        ("nan", Kind.NUMBER, "does not begin"),
        ("5 furlongs", L, "not a known unit"),
        ("5 mm to 6 mm", L, "not a range"),
        ("5 mw", Kind.POWER, "not a known unit"),
        ("5 mpa", Kind.STRESS, "not a known unit"),
        ("5 mPa", Kind.STRESS, "not a known unit"),
        ("5 M", L, "not a known unit"),
        ("5 H", Kind.DURATION, "not a known unit"),
        ("9801/min", Kind.SPEED, "not a known unit"),
        ("420 kg", F, "a unit of mass, not of force"),
        ("180 °", T, "a unit of angle, not of temperature"),
        ("85", Kind.FRACTION, "between 0 and 1"),
        ("-5 %", Kind.FRACTION, "between 0 and 1"),
        (1.01, Kind.FRACTION, "between 0 and 1"),
        ("5 %", Kind.NUMBER, "a unit of fraction, not of number"),
        (2.5, Kind.COUNT, "whole number"),
        (-1, Kind.COUNT, "whole number"),
        (2**53, Kind.COUNT, "whole number"),
        (math.nan, Kind.NUMBER, "not finite"),
        (math.inf, Kind.NUMBER, "not finite"),
        (True, Kind.COUNT, "text"),
        (None, L, "no value"),
        ([125], L, "text"),
        ("1250 USD", Kind.MONEY, "in USD, asked for is EUR"),
        ("1250", Kind.MONEY, "one currency"),
        (1250, Kind.MONEY, "no unit"),
        ("$1250", Kind.MONEY, "one currency"),
        ("1250 eur", Kind.MONEY, "one currency"),
        ("1EUR250", Kind.MONEY, "two numbers"),
        ("1,250 EUR", Kind.MONEY, "two readings"),
        ("12.500 EUR", Kind.MONEY, "two readings"),
        ("1.250 EUR/h", Kind.MONEY_RATE, "two readings"),
        ("900 EUR", Kind.MONEY_RATE, "no unit"),
        ("900 EUR/d", Kind.MONEY_RATE, "not a known unit"),
        ("900 EUR/h", Kind.MONEY, "a unit of money per hour, not of money"),
    ],
)
def test_a_text_is_refused_in_one_shape(text, kind, words):
    problem = refusal(text, kind, currency="EUR")
    assert words in problem.what
    assert problem.where == "shaft.length"
    assert problem.value
    assert problem.accepted.startswith(kind.value)
    assert problem.next_step


@pytest.mark.parametrize(
    "text", ["", "  ", "-", "--", "–", "n/a", "N/A", "n.a.", "?", "none", "tbd", "\u00a0"]
)
@pytest.mark.parametrize("kind", [L, T, Kind.NUMBER, Kind.MONEY])
def test_a_blank_is_not_zero(text, kind):
    problem = refusal(text, kind)
    assert problem.what == "no value is given"
    assert "not zero" in problem.next_step


@pytest.mark.parametrize(
    ("text", "kind", "step"),
    [
        ("1,200 mm", L, "write 1200 or 1.200"),
        ("1O0 mm", L, "a letter (O, l or I) stands among the digits"),
        ("O.5 mm", L, "a letter (O, l or I) stands among the digits"),
        ("l25 mm", L, "a letter (O, l or I) stands among the digits"),
        ("5 O", M, "nearest: oz"),
        ("approx 100 mm", L, "a range as 'low to high'"),
        ("approx. 100 mm", L, "a range as 'low to high'"),
        ("ca. 60 r/min", Kind.SPEED, "a range as 'low to high'"),
        ("~60 r/min", Kind.SPEED, "a range as 'low to high'"),
        ("100 ± 5 mm", L, "a range as 'low to high'"),
        ("100-120 mm", L, "a range as 'low to high'"),
        ("100–120 mm", L, "a range as 'low to high'"),
        ("420 kg", F, "write kgf"),
        ("5 ton", M, "write t (1000 kg) or lb"),
        ("5 m", Kind.DURATION, "write min or months"),
        ("100 SUS", Kind.VISCOSITY, "ASTM D2161"),
        ("5 milimetre", L, "nearest: mm"),
        ("5 inchs", L, "nearest: in"),
        ("5 mw", Kind.POWER, "nearest: MW, W"),
        ("5 kn/m", Kind.TORQUE, "nearest: kN·m"),
        ("85", Kind.FRACTION, "85 %"),
        ("$1250", Kind.MONEY, "ISO 4217"),
        ("5 USD 5 EUR", Kind.MONEY, "ISO 4217"),
    ],
)
def test_a_refusal_says_what_to_do(text, kind, step):
    assert step in refusal(text, kind).next_step


def test_a_long_text_is_refused_and_not_echoed():
    problem = refusal("9" * 10_000 + " mm", L)
    assert "64 characters" in problem.what
    assert len(problem.value) == TEXT_LIMIT
    assert parse("0" * (TEXT_LIMIT - 4) + "5 mm", L) == 5.0


@pytest.mark.parametrize("digits", [400, 6000])
def test_a_whole_number_that_python_cannot_print_is_refused(digits):
    with pytest.raises(UnitError, match="too large"):
        parse(10**digits, Kind.NUMBER)


def test_no_zero_is_negative():
    assert math.copysign(1, parse("-0 mm", L)) == 1
    assert math.copysign(1, parse(-0.0, Kind.NUMBER)) == 1


@pytest.mark.parametrize(
    ("text", "kind", "span"),
    [
        ("20 °C to 40 °C", T, (20, 30, 40)),
        ("-15 to 35 °C", T, (-15, 10, 35)),
        ("−15 TO −5 °C", T, (-15, -10, -5)),
        ("32 to 212 °F", T, (0, 50, 100)),
        ("0 N to 300 N", F, (0, 150, 300)),
        ("900 N to 1.2 kN", F, (900, 1050, 1200)),
        ("4.4365 in to 4.4370 in", L, (112.6871, 112.69345, 112.6998)),
        ("4 7/16 to 4 15/16 in", L, (112.7125, 119.0625, 125.4125)),
        ("900 to 1400 to 2500 EUR/h", Kind.MONEY_RATE, (900, 1400, 2500)),
        ("900 EUR/h to 1400 EUR/h", Kind.MONEY_RATE, (900, 1150, 1400)),
        ("5 to 10 %", Kind.FRACTION, (0.05, 0.075, 0.1)),
        ("125 mm", L, (125, 125, 125)),
        (0.5, Kind.FRACTION, (0.5, 0.5, 0.5)),
    ],
)
def test_a_range_is_read(text, kind, span):
    read = parse_span(text, kind, currency="EUR")
    assert (read.low, read.likely, read.high) == pytest.approx(span, rel=1e-14)
    assert read.exact == (span[0] == span[2])


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("40 to 20 °C", "from low"),
        ("20 to 50 to 40 °C", "from low"),
        ("30 to 20 to 40 °C", "from low"),
        ("20 °C to 40", "no unit"),
        ("10 to 20 to 30 to 40 °C", "two or three parts"),
        ("20 to °C", "does not begin"),
        ("to 20 °C", "does not begin"),
        ("5 to 5 ft 2 in", "no unit"),
    ],
)
def test_a_range_is_refused(text, words):
    with pytest.raises(UnitError) as caught:
        parse_span(text, L if "ft" in text else T, "site.ambient")
    problem = caught.value.problems[0]
    assert words in problem.what
    assert problem.where == "site.ambient"
    assert problem.next_step


@pytest.mark.parametrize("ends", [(2, 1, 3), (1, 3, 2), (3, 2, 1), (math.nan, 1, 2), (1, 2, math.inf)])
def test_a_span_holds_its_order(ends):
    with pytest.raises(UnitError):
        Span(*ends)


def test_a_span_of_one_value_is_exact():
    assert Span.of(2.5) == Span(2.5, 2.5, 2.5)
    assert Span.of(2.5).exact
    assert not Span(1, 1, 2).exact


@pytest.mark.parametrize(
    ("text", "kind", "money"),
    [
        ("1 250 EUR", Kind.MONEY, (1250.0, "EUR")),
        ("EUR 1 250", Kind.MONEY, (1250.0, "EUR")),
        ("0.125 EUR", Kind.MONEY, (0.125, "EUR")),
        ("1.250.000 EUR", Kind.MONEY, (1_250_000.0, "EUR")),
        ("€1.250,50", Kind.MONEY, (1250.5, "EUR")),
        ("1,250.50 USD", Kind.MONEY, (1250.5, "USD")),
        ("900 EUR/h", Kind.MONEY_RATE, (900.0, "EUR")),
        ("EUR 1 200/h", Kind.MONEY_RATE, (1200.0, "EUR")),
        ("GBP 900 per hour", Kind.MONEY_RATE, (900.0, "GBP")),
    ],
)
def test_money_keeps_its_currency(text, kind, money):
    assert parse_money(text, "value", kind) == money


@pytest.mark.parametrize("text", ["1250", "EUR", "5 EUR 6 USD", "", "1250 eur", "1 EUR 250"])
def test_money_without_one_amount_and_one_currency_is_refused(text):
    with pytest.raises(UnitError, match=r"^price: "):
        parse_money(text, "price")


def test_money_is_not_read_while_the_currency_is_not_set():
    problem = refusal("1250 EUR", Kind.MONEY)
    assert "asked for is none yet" in problem.what
    assert problem.next_step == "make the two agree"


@pytest.mark.parametrize("kind", Kind)
def test_the_first_unit_of_a_kind_is_the_internal_one(kind):
    assert units_of(kind)[0] == INTERNAL[kind]
    assert convert(0.75, kind, INTERNAL[kind]) == 0.75
    assert len(set(units_of(kind))) == len(units_of(kind))


@pytest.mark.parametrize(("kind", "unit"), [(kind, unit) for kind in Kind for unit in units_of(kind)])
def test_case_never_turns_one_unit_into_another(kind, unit):
    for variant in {unit.lower(), unit.upper(), unit.swapcase(), unit.title()} - set(units_of(kind)):
        try:
            turned = convert(1.0, kind, variant)
        except UnitError:
            continue
        assert turned == convert(1.0, kind, unit), variant


@pytest.mark.parametrize(
    ("value", "kind", "unit", "shown"), [(127, L, "in", 5), (100, T, "°F", 212), (0, T, "K", 273.15)]
)
def test_a_value_is_shown_in_another_unit(value, kind, unit, shown):
    assert convert(value, kind, unit) == pytest.approx(shown, rel=1e-15)


def test_a_value_is_not_shown_in_a_unit_of_another_kind():
    with pytest.raises(UnitError, match="'kg' is a unit of mass, not of length"):
        convert(1.0, L, "kg")


MEASURED = [kind for kind in Kind if kind not in (Kind.MONEY, Kind.MONEY_RATE, Kind.COUNT)]


@given(st.sampled_from([(k, u) for k in MEASURED for u in units_of(k)]), st.floats(1e-3, 0.999))
def test_a_converted_value_reads_back(pair, value):
    kind, unit = pair
    assert parse(f"{convert(value, kind, unit)!r} {unit}", kind) == pytest.approx(value, rel=1e-12, abs=1e-12)


@given(st.integers(1, 999), st.integers(0, 999), st.integers(0, 99), st.booleans())
def test_all_ways_to_part_a_number_agree(thousands, units, hundredths, negative):
    sign = "-" if negative else ""
    value = float(f"{sign}{thousands}{units:03d}.{hundredths:02d}")
    styles = ["{0}{1:03d}.{2:02d}", "{0}{1:03d},{2:02d}", "{0} {1:03d}.{2:02d}", "{0} {1:03d},{2:02d}"]
    styles += ["{0},{1:03d}.{2:02d}", "{0}.{1:03d},{2:02d}", "{0}\u202f{1:03d},{2:02d}"]
    for style in styles:
        text = sign + style.format(thousands, units, hundredths)
        assert parse(text, Kind.NUMBER) == value, text


@given(st.integers(0, 30), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(1, 63), st.sampled_from(" -"))
def test_an_inch_fraction_is_the_sum_of_its_parts(whole, below, above, joint):
    above %= below
    text = f'{whole}{joint}{above}/{below}"'
    assert parse(text, L) == pytest.approx((whole + above / below) * 25.4, rel=1e-15)


ODD = st.text("0123456789.,/-+'\" \u00a0°%eEOlItoinfmkgNhrCFK²³¹⁻½µ·()^€EUR\u2212\u2033\uff11", max_size=80)
LIKELY = st.builds(
    lambda number, gap, unit, tail: number + gap + unit + tail,
    st.from_regex(r"[-+]?[0-9]{1,3}([ .,/-][0-9]{1,3}){0,4}(e[0-9]{1,4})?", fullmatch=True),
    st.sampled_from(["", " ", "\t", "\n"]),
    st.sampled_from([u for kind in Kind for u in units_of(kind)]),
    st.text(max_size=4),
)


@given(st.text(max_size=80) | ODD | LIKELY, st.sampled_from(list(Kind)), st.sampled_from([None, "EUR"]))
def test_any_text_is_a_finite_number_or_a_refusal(text, kind, currency):
    for read in (
        lambda: parse(text, kind, currency=currency),
        lambda: parse_span(text, kind, currency=currency).likely,
        lambda: parse_money(text)[0],
    ):
        try:
            assert math.isfinite(read())
        except UnitError as error:
            assert error.problems[0].what
            assert error.problems[0].next_step


@given(st.floats() | st.integers() | st.booleans() | st.none(), st.sampled_from(list(Kind)))
def test_any_plain_value_is_a_finite_number_or_a_refusal(value, kind):
    try:
        assert parse(value, kind) == float(value)
        assert math.isfinite(value)
        assert kind in (Kind.NUMBER, Kind.COUNT, Kind.FRACTION)
    except UnitError as error:
        assert error.problems[0].accepted
