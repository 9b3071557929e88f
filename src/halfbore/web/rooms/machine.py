"""The machine room: the answer, the shaft line to scale, what stands along it as a table that is edited in place."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from fastapi import APIRouter, Request
from markupsafe import Markup
from starlette.responses import RedirectResponse, Response

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.shaftline import Reaction
from halfbore.domain.study import Decision, Glance, PositionStudy, Study
from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address
from halfbore.domain.worth import Worth
from halfbore.errors import InputError, Problem
from halfbore.intake.check import PARTS
from halfbore.numbers import Style
from halfbore.phrases import listed, phrase
from halfbore.present.shaft_drawing import shaft_drawing
from halfbore.present.svg import Way
from halfbore.present.wording import axial_reaction, counted, reaction_direction, tags
from halfbore.store import paths
from halfbore.web import editing
from halfbore.web.addresses import machine_page, position_page, tag_of
from halfbore.web.desk import Desk
from halfbore.web.editing import Editing
from halfbore.web.elements import duty_of, elements_of
from halfbore.web.fields import Value, address_of, at_text, value_at, values_of
from halfbore.web.page import AtDesk, Form, Place, show, style_of
from halfbore.web.rooms.changes import by_batch
from halfbore.web.told import told
from halfbore.web.words import THEMED, svg
from halfbore.workspace.overview import LineState

router = APIRouter(include_in_schema=False)
WIDTHS = {"wide": 948.0, "middle": 792.0}
"""Widths of the drawing [px], one for each class of page widths."""
FIGURES = ("modified life", "static safety", "temperature", "room")
"""Checks that stand in the panel of a position, whatever they say."""
GLANCED = {
    Decision.HOLDS: "the unit shown holds at {}",
    Decision.HOLDS_IF: "at {} the unit shown holds once that is shown",
    Decision.SETTLE_FIRST: "settle the root cause at {} before any bearing is bought",
    Decision.WAITS: "at {} a question is open before the unit shown can be chosen",
    Decision.NO_UNIT: "the unit shown does not hold at {}",
}
"""What is said of units that stand on other inputs than those they were chosen on."""
CONDITION_FIELDS = ("share", "speed", "load_factor", "shaft_temperature", "housing_temperature")
HISTORY = 12


@dataclass(frozen=True)
class Panel:
    """The answer for one position: what was chosen or came nearest, its main checks, its worth when last run.

    first: what is to be measured or settled before the unit is bought, empty where nothing is.
    """

    tag: str
    letter: str
    words: str
    unit: str
    chosen: bool
    verdict: Verdict | None
    findings: tuple[Finding, ...]
    note: str
    first: str
    worth: Worth | None


@router.get("/lines/{machine}/{line}")
def look(request: Request, desk: AtDesk, machine: str, line: str) -> Response:
    """Show a shaft line; `edit` with `at` names the value that is being edited and `value` what is typed in it already,
    `open` the row that is opened."""
    address = desk.line(tag_of(machine), tag_of(line))
    query = request.query_params
    at, path, typed = address_of(query.get("at", "")), query.get("edit", ""), query.get("value")
    return page(request, desk, address, Editing(at, path, typed) if path else None, query.get("open", ""))


@router.post("/lines/{machine}/{line}")
def change(request: Request, desk: AtDesk, form: Form, machine: str, line: str) -> Response:
    """Keep a value, add or take away what stands along the shaft."""
    address = desk.line(tag_of(machine), tag_of(line))
    opened = form.get("open", "")
    try:
        edited = _done(desk, address, form)
    except InputError as error:
        return page(request, desk, address, Editing(address, form.get("do", ""), None, error), opened, form)
    if edited is not None:
        return page(request, desk, address, edited, opened)
    return RedirectResponse(machine_page(address, open=opened), 303)


def _done(desk: Desk, line: Address, form: Form) -> Editing | None:
    """Do what a form asks for. Raises InputError."""
    does: dict[str, Callable[[], object]] = {
        "keep": lambda: editing.keep(desk.workspace, form, desk.who),
        "remove": lambda: editing.remove(desk.workspace, form, desk.who),
        "add part": lambda: editing.add(desk.workspace, line, "loads", form, desk.who),
        "add stretch": lambda: editing.add(desk.workspace, line, "shaft.segments", form, desk.who),
        "add condition": lambda: editing.add(
            desk.workspace, duty_of(desk.workspace, line)[0], "duty", form, desk.who
        ),
        "add position": lambda: editing.add_position(desk.workspace, line, form, desk.who),
    }
    asked = form.get("do", "")
    if asked not in does:
        raise InputError(Problem("is nothing that can be done here", "do", asked[:64], ", ".join(does)))
    done = does[asked]()
    return done if isinstance(done, Editing) else None


def page(
    request: Request,
    desk: Desk,
    line: Address,
    edited: Editing | None,
    opened: str = "",
    form: dict[str, str] | None = None,
) -> Response:
    """Return the page of a shaft line, whole or with what it lacks."""
    words = style_of(request)
    answer = answer_of(desk, line, words.style, at_once="HX-Request" in request.headers)
    letters = answer["letters"]
    record = answer | {
        "elements": elements_of(desk.workspace, line, words.style, letters),
        "edited": edited,
        "field": field_of(desk, edited, words.style),
        "opened": opened,
        "entry": entry_of(desk, line, opened, words.style),
        "versions": Versions(desk),
        "duty": conditions(desk, line, words.style),
        "facts": facts(desk, line, words.style),
        "kinds": list(PARTS),
        "given": form or {},
        "history": by_batch(desk.workspace.history(line[:1], HISTORY)),
    }
    status = edited.status if edited else 200
    return show(request, "machine.html", Place("machine", line), record, status)


def answer_of(
    desk: Desk,
    line: Address,
    style: Style,
    *,
    at_once: bool = False,
    glanced: Glance | None = None,
    widths: Mapping[str, float] = WIDTHS,
) -> dict[str, Any]:
    """Return what the answer and the drawing of a shaft line show.

    at_once: the units shown last stand in where a search is not done yet, and the page asks for it by itself;
    glanced: what to show instead of today's answer; widths: of the drawings, by their class.
    """
    lines = machine_lines(desk, line[0])
    state = next(one for one in lines if one.address == line)
    found, problems = glanced or (glance_of(desk, line) if at_once else None), tuple[Problem, ...]()
    unsettled = found is not None and glanced is None
    shown: Study | Glance | None = found
    if shown is None:
        shown, problems = solved(desk, line)
    record: dict[str, Any] = {
        "line": line,
        "lines": [one.address for one in lines],
        "title": shown.reading.job.title if shown else title_of(desk, line),
        "state": state,
        "problems": problems,
        "letters": tags(state.positions),
        "split": {p.position for p in shown.positions if p.choice and p.choice.chosen} if shown else set(),
        "run": desk.runs.last,
        "typed": "",
        "unsettled": unsettled,
    }
    return record | (
        _answer(shown, state, desk.workspace.document(line), style, widths)
        if shown
        else {"headline": "", "study": None}
    )


def glance_of(desk: Desk, line: Address) -> Glance | None:
    """Return how the units shown last stand today, where nobody has searched today's inputs yet."""
    if desk.studies.at_hand(line):
        return None
    try:
        return desk.studies.glance(line)
    except InputError:
        return None


def _answer(
    study: Study | Glance, state: LineState, document: Plain, style: Style, widths: Mapping[str, float]
) -> dict[str, Any]:
    return {
        "study": study,
        "headline": headline(study) if isinstance(study, Study) else glanced_headline(study),
        "panels": [panel(study, i, state) for i in range(len(study.positions))],
        "drawings": drawings(study, state.address, document, style, widths),
        "reactions": reactions(study, style),
        "conditions": [curve.condition for curve in study.response.curves],
        "balances": study.response.balances,
        "notes": study.response.notes,
        "questions": study.reading.questions,
        "estimates": study.reading.estimates,
        "counts": (len(study.reading.typed), len(study.reading.assumptions)),
    }


class Versions:
    """Versions of documents, for the forms of one page."""

    def __init__(self, desk: Desk) -> None:
        self._desk, self._known = desk, dict[Address, int]()

    def __call__(self, at: Address) -> int:
        """Return the version of a thing, read once."""
        if at not in self._known:
            self._known[at] = self._desk.workspace.version(at)
        return self._known[at]


def machine_lines(desk: Desk, machine: str) -> Sequence[LineState]:
    """Return the shaft lines of a machine."""
    return next(state.lines for state in desk.overview.machines() if state.tag == machine)


def line_state(desk: Desk, line: Address) -> LineState:
    """Return how the kept answer of a shaft line stands."""
    return next(state for state in machine_lines(desk, line[0]) if state.address == line)


def solved(desk: Desk, line: Address) -> tuple[Study | None, tuple[Problem, ...]]:
    """Return the study of a shaft line on today's inputs, or what keeps it from being one."""
    try:
        return desk.studies.of(line), ()
    except InputError as error:
        return None, error.problems


def title_of(desk: Desk, line: Address) -> str:
    """Return the title that the job gives a shaft line."""
    return str(desk.workspace.job_data(line).get("title", ""))


def headline(study: Study) -> str:
    """Return the answer for a shaft line on today's inputs in one sentence."""
    if not study.positions:
        return "Loads and reactions only: there is no catalogue to choose from yet."
    return study.sentence


def glanced_headline(glance: Glance) -> str:
    """Return how the units that are shown stand, in one sentence."""
    found = [
        (words, [p.position for p in glance.positions if p.decision is decision])
        for decision, words in GLANCED.items()
    ]
    text = "; ".join(words.format(listed(there)) for words, there in found if there)
    text = text or "no position gets a split unit"
    return f"{text[:1].upper()}{text[1:]}."


def panel(study: Study | Glance, index: int, state: LineState) -> Panel:
    """Return the answer for one position of a study."""
    job, found = study.reading.job, study.positions[index]
    position = job.positions[index]
    letter = tags([p.name for p in job.positions])[position.name]
    trapped = listed(position.trapped_between)
    words = f"{position.role.value}{f', trapped: {trapped}' if trapped else ''}"
    worth = next((row for row in state.rows if row.position == position.name), None)
    choice = found.choice
    if choice is None:
        return Panel(position.name, letter, words, "", False, None, (), f"{found.because}.", "", worth)
    unit = choice.chosen or choice.nearest
    findings = tuple(f for name in FIGURES for f in choice.shown_findings if f.check == name)
    return Panel(
        position.name,
        letter,
        words,
        unit.name if unit else "",
        choice.chosen is not None,
        worst(choice.shown_findings),
        findings,
        _note(found),
        before_it_is_bought(found),
        worth,
    )


def before_it_is_bought(found: PositionStudy) -> str:
    """Return what is to be measured or settled before the unit of a position is bought, empty where nothing is."""
    if found.decision is Decision.SETTLE_FIRST:
        return phrase("Settle the root cause first: {}", found.because)
    return found.first


def worst(findings: Sequence[Finding]) -> Verdict | None:
    """Return what the checks of a unit say as a whole."""
    order = (Verdict.FAILS, Verdict.OUTSIDE, Verdict.NO_DATA, Verdict.TIGHT, Verdict.HOLDS)
    said = {finding.verdict for finding in findings}
    return next((verdict for verdict in order if verdict in said), None)


def _note(found: PositionStudy) -> str:
    """Return the checks that do not simply hold, or the one nearest to its limit."""
    choice = found.choice
    assert choice is not None
    other = [f for f in choice.shown_findings if f.verdict not in (Verdict.HOLDS, Verdict.NOT_APPLICABLE)]
    if other:
        return "; ".join(f"{f.title}: {f.verdict.word}" for f in other[:3]) + "."
    held = [f for f in choice.shown_findings if f.used is not None and f.verdict is Verdict.HOLDS]
    if not held:
        return choice.sentence
    most = max(held, key=lambda f: f.used.high if f.used else 0.0)
    share = 100 * most.used.high if most.used else 0.0
    return (
        f"All {counted(len(held), 'check')} hold. Nearest to its limit: {most.title.lower()}, {share:.0f} %."
    )


def drawings(
    study: Study | Glance, line: Address, document: Plain, style: Style, widths: Mapping[str, float]
) -> dict[str, Markup]:
    """Return the drawing of a shaft line once for each class of widths; parts and positions in it are links."""
    units = {p.position: p.choice.chosen_unit for p in study.positions if p.choice and p.choice.chosen_unit}
    job, told = study.reading.job, paths.labels(document.get("loads") or [])
    ways = {load.name: _part_way(line, load.name, load.x) for load in job.loads if load.name in told}
    ways |= {
        p.name: Way(position_page(p.name), machine_page(line, edit="x", at=at_text((*line, p.name))), p.x)
        for p in job.positions
    }
    return {
        name: svg(shaft_drawing(study.reading.job, study.response, units, style, width, 640.0, THEMED), ways)
        for name, width in widths.items()
    }


def _part_way(line: Address, name: str, x: float) -> Way:
    base = f"loads[{name}]"
    edit = machine_page(line, open=base, edit=f"{base}.x", at=at_text(line))
    return Way(machine_page(line, open=base), edit, x)


def reactions(study: Study | Glance, style: Style) -> list[tuple[Reaction, str, str]]:
    """Return the force of each support in each condition, its direction and its axial part in words."""
    return [(r, reaction_direction(r), axial_reaction(r, style)) for r in study.response.reactions]


def field_of(desk: Desk, edited: Editing | None, style: Style) -> Value | None:
    """Return the value that is being edited, None where nothing is or its path leads nowhere."""
    if edited is None or not edited.path:
        return None
    try:
        return value_at(edited.at, desk.workspace.document(edited.at), edited.path, style)
    except InputError:
        return None


def entry_of(desk: Desk, line: Address, opened: str, style: Style) -> list[Value]:
    """Return every value of the entry that is opened, nothing where there is none."""
    if not opened:
        return []
    at = duty_of(desk.workspace, line)[0] if opened.startswith("duty[") else line
    try:
        return list(values_of(at, desk.workspace.document(at), style, opened))
    except InputError:
        return []


def conditions(desk: Desk, line: Address, style: Style) -> list[tuple[str, str, list[Value]]]:
    """Return the conditions of the duty: path, name, values."""
    at, bases = duty_of(desk.workspace, line)
    document = desk.workspace.document(at)
    return [
        (
            base,
            base.partition("[")[2][:-1],
            [value_at(at, document, f"{base}.{name}", style) for name in CONDITION_FIELDS],
        )
        for base in bases
    ]


FACTS = (
    *("machine.kind", "machine.rotation", "machine.name_plate.power", "machine.name_plate.motor_speed"),
    *("machine.name_plate.ratio", "machine.name_plate.arrangement", "machine.variable_speed"),
    *("machine.site.ambient", "machine.site.contamination", "machine.site.dust", "machine.site.water"),
    *("lubricant.kind", "lubricant.iso_vg", "lubricant.viscosity_index", "lubricant.proven_ep"),
    *("required.life", "required.reliability", "required.shock"),
)
"""What is said of the machine as a whole."""


def facts(desk: Desk, line: Address, style: Style) -> list[Value]:
    """Return what is said of the machine as a whole, from the document that decides; edits go to the machine."""
    found = [told(desk.workspace, line, path, style) for path in FACTS]
    return [
        replace(value, label=f"{value.path.partition('.')[0]} kind")
        if value.path.endswith(".kind")
        else value
        for value in found
    ]
