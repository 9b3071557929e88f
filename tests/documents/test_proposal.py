"""The proposal: what a manager needs on page one, every figure as the record has it, eight pages, the same bytes."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pypdf
import pytest

from halfbore.documents.front_figures import next_change
from halfbore.documents.front_notes import WORK, ordered_price
from halfbore.documents.proposal import PAGES, proposal_data, proposal_pdf, write_proposal
from halfbore.documents.subject import TOLD, Subject, counted_findings, nearest
from halfbore.domain.check import Verdict
from halfbore.domain.job import Assumption
from halfbore.domain.order import AnswerState
from halfbore.domain.plan import Exposure, Hazard
from halfbore.domain.study import Decision, Study
from halfbore.domain.value import Value
from halfbore.estimate.reading import read_completed
from halfbore.numbers import INCH, METRIC, Style, runs, write
from halfbore.present.bars import used_words
from halfbore.present.shaft_forces import main_condition
from halfbore.present.wording import (
    CALCULATION_AID,
    life,
    limit_of,
    prose,
    reaction_direction,
    sentence,
    value_of,
)
from halfbore.units import Kind, Span
from tests.documents.studies import CASES, WHEN, flat, of_reading, pages, pdf, runs_over, studied
from tests.estimate.machines import MACHINES

KIND = Kind


@pytest.mark.parametrize("name", CASES)
def test_eight_pages_at_most(name: str) -> None:
    assert 4 <= len(pages(pdf(name))) <= PAGES


@pytest.mark.parametrize("name", ["fan", "head_shaft", "line_shaft"])
def test_page_one_is_for_the_signature(name: str) -> None:
    study = studied(name)
    first = pages(pdf(name))[0]
    lead = Subject(study).lead
    assert lead is not None and lead.value is not None
    assert flat(prose(study.sentence)) in first
    assert flat(CALCULATION_AID) in first
    assert flat(prose(lead.value.no_when)) in first
    assert "Before anyone starts" in first and "lockout procedure" in first
    assert "Demo data, all invented" in first
    for finding in lead.choice.findings if lead.choice is not None else ():
        if finding.verdict not in (Verdict.HOLDS, Verdict.NOT_APPLICABLE):
            assert flat(sentence(finding.reason)) in first
    for finding in nearest(lead):
        assert (
            finding.title in first and flat(value_of(finding)) in first and flat(limit_of(finding)) in first
        )
    for position in study.positions:
        assert position.position in first


def test_five_supports_and_long_names_stay_on_their_pages() -> None:
    told = pages(pdf("five"))
    subject = Subject(studied("five"))
    assert len(subject.full) >= 3
    assert "Convert " in told[0] and CALCULATION_AID in told[0] and "Before anyone starts" in told[0]
    assert all(flat(prose(name)) in told[1] for name in subject.tags)
    assert any(
        "one-piece bearing, in an" in page.lower() and "hours from product off" in page for page in told
    )


def ranged(low: float, high: float, kind: Kind, currency: str = "") -> str:
    return write((low, high), kind, currency=currency)


def value_figures(v: Value) -> Iterator[str]:
    yield ranged(v.saving.p10, v.saving.p90, Kind.MONEY, v.currency)
    yield write(v.saving.p50, Kind.MONEY, beside=v.saving.p90, currency=v.currency)
    yield ranged(v.hours_saved.p10, v.hours_saved.p90, Kind.DURATION)
    yield write(v.chance, Kind.FRACTION)
    for cost in v.costs:
        yield cost.name
    for basis in v.lives:
        yield life(Span(basis.eta.p10, basis.eta.p50, basis.eta.p90))


def figures(study: Study) -> Iterator[str]:
    """Yield every figure that the proposal of one converted position must show, as the record has it."""
    subject = Subject(study)
    lead = subject.lead
    assert lead is not None and lead.choice is not None and lead.choice.chosen is not None
    assert lead.order is not None and lead.plans is not None and lead.value is not None
    yield f"pays in {runs(lead.value.chance)}"
    for f in counted_findings(lead):
        yield from (w for w in (value_of(f), limit_of(f), used_words(f)) if w)
    yield f"{lead.order.code} as ordered"
    if lead.choice.next is not None:
        yield lead.choice.next.code
    for candidate in (lead.choice.chosen, lead.choice.next):
        if candidate is not None:
            yield write(candidate.cost, Kind.MONEY, resolution=1.0, currency=candidate.currency)
    yield write(lead.choice.total, Kind.COUNT)
    for item in (*lead.order.items, *lead.order.spares):
        yield write(item.price, Kind.MONEY, resolution=1.0, currency=item.currency)
        yield write(item.mass, Kind.MASS)
    for plan in (lead.plans.one_piece, lead.plans.split_first, lead.plans.split_repeat):
        for clock in (plan.exchange, plan.mechanical, plan.outage):
            yield ranged(clock.p10, clock.p90, Kind.DURATION)
    for e in (*lead.plans.one_piece.exposure, *lead.plans.split_first.exposure):
        yield f"{write(e.hours, Kind.DURATION)}, {write(e.person_hours, Kind.DURATION, bare=True)} person-h"
    yield from value_figures(lead.value)
    for p in study.positions:
        if p.value is not None:
            yield ranged(p.value.saving.p10, p.value.saving.p90, Kind.MONEY, p.value.currency)
    for r in study.response.reactions:
        yield write((r.y**2 + r.z**2) ** 0.5, Kind.FORCE)
        yield ranged(r.low, r.high, Kind.FORCE)
        yield reaction_direction(r)
    yield write(study.response.max_stress, Kind.STRESS)
    yield write(study.response.first_critical_speed, Kind.SPEED)
    yield f"seed {study.provenance.seed}"


@pytest.mark.parametrize("name", ["fan", "head_shaft", "line_shaft"])
def test_every_figure_equals_the_records(name: str) -> None:
    told = " ".join(pages(pdf(name)))
    missing = [words for words in figures(studied(name)) if flat(words) not in told]
    assert missing == []


@pytest.mark.parametrize("name", ["fan", "head_shaft", "line_shaft"])
def test_loads_assumptions_and_sources_are_all_there(name: str) -> None:
    study, told = studied(name), " ".join(pages(pdf(name)))
    condition = main_condition(study.response)
    for load in study.response.loads:
        sizes = (load.force_y[condition] ** 2 + load.force_z[condition] ** 2) ** 0.5
        assert load.name in told
        if sizes.max() > 0.0:
            assert flat(ranged(float(sizes.min()), float(sizes.max()), Kind.FORCE)) in told
    assert f"{len(study.reading.assumptions)} values that the job file left out" in told
    assert study.provenance.inputs_hash in told.replace(" ", "")
    for use in study.provenance.catalogues:
        assert use.supplier in told and f"version {use.version}" in told


@pytest.mark.parametrize("name", CASES)
def test_the_claim_stands_beside_the_clocks(name: str) -> None:
    told = " ".join(pages(pdf(name)))
    assert "Up to 90 % shorter is often quoted." in told
    assert "Exchange: old one loose, new one closed" in told


@pytest.mark.parametrize("name", CASES)
def test_nothing_looks_like_a_fault_of_the_program(name: str) -> None:
    told = " ".join(pages(pdf(name)))
    assert not re.search(r"\bnan\b|\binf\b|\bNone\b|np\.|Span\(|<[A-Z]|−0(?![.\d])", told)


@pytest.mark.parametrize("name", CASES)
def test_each_page_says_what_the_marks_mean(name: str) -> None:
    told = pages(pdf(name))
    for number, page in enumerate(told, start=1):
        assert f"Page {number} of {len(told)}" in page
        assert "from memory, to be read in its source" in page and "common practice or estimate" in page


def test_the_count_of_weak_sources_is_on_page_one() -> None:
    assert re.search(
        r"Of \d+ verdicts at F1-A and F1-B, \d+ rests? on a value from memory and \d+ on",
        pages(pdf("fan"))[0],
    )


@pytest.mark.parametrize(
    ("plant", "suppliers", "head"),
    [
        (True, True, "Demo data, all invented"),
        (True, False, "Demo data, plant invented"),
        (False, True, "Supplier data invented"),
        (False, False, ""),
    ],
)
def test_what_is_invented_is_said_and_no_more(plant: bool, suppliers: bool, head: str) -> None:
    study = studied("fan")
    job = replace(study.reading.job, invented=plant)
    uses = tuple(replace(c, invented=suppliers) for c in study.provenance.catalogues)
    changed = replace(
        study,
        reading=replace(study.reading, job=job),
        provenance=replace(study.provenance, catalogues=uses),
    )
    data = proposal_data(changed, WHEN)
    assert data["head"]["demo"] == head
    assert ("nvented" in str(data["parts"]["sources"])) == (plant or suppliers)


def test_questions_of_the_order_are_answered_or_open() -> None:
    study = studied("fan")
    first, *others = study.positions
    assert first.order is not None
    head, *rest = first.order.answers
    asked = replace(head, answer="the site has not said", state=AnswerState.OPEN)
    order = replace(first.order, answers=(asked, *rest), ready=False)
    told = " ".join(
        pages(proposal_pdf(replace(study, positions=(replace(first, order=order), *others)), WHEN))
    )
    assert "not ready: 1 question open" in told and "open: the site has not said" in told
    for answer in rest:
        assert flat(answer.question) in told


def test_the_same_study_and_date_give_the_same_bytes() -> None:
    assert proposal_pdf(studied("fan"), WHEN) == pdf("fan")
    assert proposal_pdf(studied("fan"), WHEN.replace(day=3)) != pdf("fan")


def test_it_is_archival_and_tagged() -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf("fan")))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"] == True  # noqa: E712
    assert reader.metadata is not None and reader.metadata.title.startswith("Proposal: Convert F1-A")
    assert b"pdfuaid" in pdf("fan") and b"pdfaid" in pdf("fan")


def test_nothing_that_was_typed_is_evaluated() -> None:
    study = studied("fan")
    nasty = '#eval("1+1") $x^2$ *b* _i_ \\ @ref <label> `raw` // # [c] "q" \u00ad ☃'
    job = replace(study.reading.job, title=nasty)
    reading = replace(study.reading, assumptions=(Assumption("machine.name", nasty, nasty),), job=job)
    told = " ".join(pages(proposal_pdf(replace(study, reading=reading), WHEN)))
    assert '#eval("1+1") $x^2$ *b* _i_ \\ @ref <label> `raw` // # [c] "q"' in told


def test_letters_that_the_font_lacks_are_question_marks() -> None:
    study = studied("fan")
    job = replace(study.reading.job, title="Ventilator \u0416\u03a9 \u4e2d\u6587 \u2603 \x07 \ud83d")
    first = pages(proposal_pdf(replace(study, reading=replace(study.reading, job=job)), WHEN))[0]
    assert "Ventilator \u0416\u03a9 ?? ? ? ?;" in first


def test_positions_alone_without_a_catalogue_still_make_a_proposal() -> None:
    study = replace(studied("fan"), positions=(), sentence="F1: loads and reactions only.")
    first = pages(proposal_pdf(study, WHEN))[0]
    assert "loads and reactions only" in first and "not asked" in first


def test_page_one_gives_the_question_that_is_open_and_says_that_loads_are_estimated() -> None:
    plate = {**MACHINES["H1"].data("H1"), "catalogues": ["demo:first", "demo:second"]}
    reading = read_completed(plate)
    study = of_reading(reading)
    first = pages(proposal_pdf(study, WHEN))[0]
    assert {p.decision for p in study.positions} == {Decision.WAITS}
    assert all(flat(prose(p.because)) in first for p in study.positions)
    count = sum(e.path.startswith("loads[") for e in reading.estimates)
    assert count > 1
    assert f"Loads are estimated from the name plate: {count} values, each among the assumptions." in first
    assert CALCULATION_AID in first


def test_page_one_says_what_to_measure_before_anything_is_ordered() -> None:
    study = studied("fan")
    words = "Weigh the wheel first: it decides whether the unit holds at F1-A"
    once = replace(study.positions[0], decision=Decision.CONVERT_IF, first=words)
    told = pages(proposal_pdf(replace(study, positions=(once, *study.positions[1:])), WHEN))
    assert words.removesuffix("F1-A") in told[0]
    assert "convert if it holds" in told[0]


def test_where_no_unit_holds_it_says_so() -> None:
    study = studied("fan")
    none = tuple(
        replace(
            p, decision=Decision.NO_UNIT, because="No unit holds here.", lift=None, order=None, plans=None, value=None,
            choice=replace(
                p.choice, chosen=None, chosen_unit=None, next=None, findings=(), next_findings=(),
                nearest=p.choice.chosen, nearest_unit=p.choice.chosen_unit, nearest_findings=p.choice.findings,
                questions=(("the speed limit without grease", 17),),
            ),
        )
        for p in study.positions if p.choice is not None
    )  # fmt: skip
    told = pages(
        proposal_pdf(replace(study, positions=none, sentence="At F1-A and F1-B no unit holds."), WHEN)
    )
    whole = " ".join(told)
    assert "no unit holds" in told[0] and "No unit holds here." in told[0]
    assert "What would make the answer no" not in told[0] and "of 0 verdicts" not in told[0].lower()
    assert "The speed limit without grease. 17" in whole and "What turned it away, and by how much" in whole
    first = study.positions[0].choice
    assert first is not None and first.chosen is not None
    assert "The nearest unit at F1-A" in whole and first.chosen.code in whole
    for finding in first.findings:
        assert flat(value_of(finding)) in whole and flat(limit_of(finding)) in whole


def test_a_gauged_seat_is_printed_to_the_micrometre_beside_its_limits() -> None:
    """5.936 to 5.937 in are 150.7744 to 150.7998 mm: rounded to a tenth they would not be told from their limits."""
    told = flat("\n".join(pages(pdf("head_shaft"))))
    assert "150.774 to 150.800 mm" in told
    assert "within 150.750 to 150.812 mm" in told


def test_other_units_are_shown_in_inches() -> None:
    data = proposal_data(studied("fan"), WHEN, INCH)
    told = " ".join(pages(proposal_pdf(studied("fan"), WHEN, INCH)))
    reaction = studied("fan").response.reactions[0]
    assert flat(write(reaction.y, Kind.FORCE, INCH)) in told and " lbf" in told
    assert not re.search(r"\d kN\b(?! )", str(data["front"]["options"][0][2]["svg"]))


def test_a_converted_position_is_told_in_full_and_the_others_in_a_row() -> None:
    subject = Subject(studied("line_shaft"))
    assert [p.decision in TOLD for p in subject.full] == [True] * len(subject.full)
    told = " ".join(pages(pdf("line_shaft")))
    for p in subject.short:
        assert f"All checks at {p.position}" not in told
    for p in subject.full:
        assert f"All checks at {p.position}" in told


def test_the_file_is_written_whole(tmp_path) -> None:  # type: ignore[no-untyped-def]
    path = write_proposal(studied("fan"), WHEN, tmp_path / "new" / "proposal.pdf")
    assert path.read_bytes() == pdf("fan")
    assert [p.name for p in path.parent.iterdir()] == ["proposal.pdf"]


@pytest.mark.parametrize("missing", [("value",), ("value", "plans"), ("value", "plans", "order")])
def test_what_was_not_asked_for_is_said_and_not_zero(missing: tuple[str, ...]) -> None:
    study = studied("fan")
    none: dict[str, Any] = dict.fromkeys(missing)
    positions = tuple(replace(p, decision=Decision.HOLDS, **none) for p in study.positions)
    reading = replace(study.reading, job=replace(study.reading.job, value=None))
    changed = replace(study, reading=reading, positions=positions, sentence="A unit holds at F1-A.")
    told = pages(proposal_pdf(changed, WHEN))
    assert "not asked" in told[0] and "nothing here says that it pays" in told[0]
    assert ("outage of the first conversion" in told[0]) == ("plans" not in missing)


def test_a_price_in_another_currency_is_the_reason_for_no_value_and_no_cost() -> None:
    study = studied("fan")
    job = study.reading.job
    assert job.value is not None
    dollars = replace(job, value=replace(job.value, currency="USD"))
    because = (
        "2 units hold. No value: the price is in EUR, the job counts in USD; convert it by a dated rate."
    )
    positions = []
    for p in study.positions:
        assert p.choice is not None and p.choice.chosen is not None
        candidates = tuple(replace(c, cost=float("nan")) for c in p.choice.candidates)
        choice = replace(p.choice, candidates=candidates)
        positions.append(replace(p, decision=Decision.HOLDS, because=because, value=None, choice=choice))
    reading = replace(study.reading, job=dollars)
    told = pages(proposal_pdf(replace(study, reading=reading, positions=tuple(positions)), WHEN))
    assert "price in EUR" in told[0] and f"F1-A: {because}" in told[0]
    assert "not asked" not in " ".join(told)
    assert "no cost: price in EUR, job in USD" in " ".join(told)


def test_cautions_on_the_shaft_stand_on_page_one() -> None:
    study = studied("fan")
    note = "Caution: 1180 r/min is 98 % of the first critical speed: unbalance is magnified."
    response = replace(study.response, notes=(note, "Another note."))
    first = pages(proposal_pdf(replace(study, response=response), WHEN))[0]
    assert flat(prose(note)) in first and "Another note." not in first


def test_page_one_of_a_crowded_machine_still_tells_the_work() -> None:
    study = studied("fan")
    reason = "42 mm of lift needed, 10 mm allowed: the drive must be opened at the first conversion"
    positions = []
    for p in study.positions:
        assert p.choice is not None
        found = tuple(
            replace(f, verdict=Verdict.TIGHT, reason=reason) if f.check == WORK else f
            for f in p.choice.findings
        )
        positions.append(replace(p, choice=replace(p.choice, findings=found)))
    first = pages(proposal_pdf(replace(study, positions=tuple(positions)), WHEN))[0]
    assert f"Lift and entry at F1-A and F1-B, tight: {reason}." in first


@pytest.mark.parametrize("style", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize("name", CASES)
def test_page_one_holds_the_longest_texts(name: str, style: Style) -> None:
    """Every check tight with a long reason, three cautions, every hazard met; the drawing gives way."""
    study = studied(name)
    reason = (
        "42 mm of lift needed, 10 mm allowed by coupling and casing seal: the drive must be opened first; "
        * 2
    )
    positions = []
    for p in study.positions:
        if p.choice is not None and p.plans is not None:
            found = tuple(replace(f, verdict=Verdict.TIGHT, reason=reason) for f in p.choice.findings)
            met = tuple(Exposure(hazard, 1.0, 2.0) for hazard in Hazard)
            first = replace(p.plans.split_first, exposure=met)
            p = replace(
                p, choice=replace(p.choice, findings=found), plans=replace(p.plans, split_first=first)
            )
        positions.append(p)
    note = "Caution: 1180 r/min is 98 % of the first critical speed: unbalance is magnified, and {}."
    notes = tuple(note.format(f"the wheel is balanced again {n} times") for n in ("two", "three", "four"))
    crowded = replace(study, positions=tuple(positions), response=replace(study.response, notes=notes))
    assert runs_over(proposal_pdf(crowded, WHEN, style)) == ""


def test_page_one_names_every_hazard_and_the_page_that_tells_what_to_do() -> None:
    told = pages(pdf("head_shaft"))
    p = Subject(studied("head_shaft")).full[0]
    assert p.plans is not None
    met = [e.hazard for e in p.plans.split_first.exposure]
    assert Hazard.RUN_BACK in met and Hazard.TAKE_UP in met
    assert all(hazard.value in told[0].lower() for hazard in met)
    (page,) = re.findall(r"rotating parts: page (\d)", told[0])
    all_told = told[int(page) - 1]
    assert "a holdback is no lock" in all_told and "lock-out does not unload it" in all_told


def test_the_price_of_the_unit_is_told_with_its_seals() -> None:
    subject = Subject(studied("fan"))
    p = subject.full[0]
    assert p.choice is not None and p.choice.chosen is not None and p.order is not None
    unit, *seals = p.order.items
    pair = tuple(replace(s, price=210.0) for s in seals)
    one, two = replace(p.order, items=(unit, *pair)), replace(p.order, items=(unit, pair[0]))
    price = write(unit.price, Kind.MONEY, resolution=1.0, currency=unit.currency)
    assert len(pair) == 2
    assert flat(ordered_price(p.choice.chosen, one, subject)) == flat(f"{price} and 2 seals at 210 €")
    assert flat(ordered_price(p.choice.chosen, two, subject)) == flat(f"{price} and 1 seal at 210 €")
    assert flat(ordered_price(p.choice.chosen, None, subject)) == flat(price)


@pytest.mark.parametrize(
    ("low", "high", "told", "brief"),
    [
        (2.0, 6.0, "saves 2.0 to 6.0 h", "saves 2.0 to 6.0 h"),
        (4.0, 4.0, "saves 4.0 h", "saves 4.0 h"),
        (-6.0, -2.0, "takes 2.0 to 6.0 h more", "takes 2.0 to 6.0 h more"),
        (-1.4, 0.01, "takes 0 to 1.4 h more", "takes 0 to 1.4 h more"),
        (-0.01, 1.4, "saves 0 to 1.4 h", "saves 0 to 1.4 h"),
        (-3.4, 0.3, "between 3.4 h more and 0.3 h less", "3.4 h more to 0.3 h less"),
    ],
)
def test_hours_of_the_next_change_bear_no_sign(low: float, high: float, told: str, brief: str) -> None:
    subject = Subject(studied("fan"))
    value = subject.full[0].value
    assert value is not None
    changed = replace(value, hours_saved_next=replace(value.hours_saved_next, p10=low, p90=high))
    assert flat(next_change(changed, subject)) == told
    assert flat(next_change(changed, subject, brief=True)) == brief
