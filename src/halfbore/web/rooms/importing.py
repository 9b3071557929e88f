"""The room of surveys: a file comes in, its columns are given their fields, its rows go into the plant or are mended."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated, Any
from urllib.parse import quote, urlencode

from fastapi import APIRouter, Query, Request
from starlette.responses import RedirectResponse, Response

from halfbore import limits
from halfbore.domain.survey import Plain, Reject, Thing, Told
from halfbore.domain.workspace import Edit, named
from halfbore.errors import HalfboreError, InputError, Problem
from halfbore.intake.book import DELIMITERS
from halfbore.intake.mapping_file import mapping_data
from halfbore.intake.survey.mapping import OPEN
from halfbore.intake.survey.rejects import write_rejects
from halfbore.intake.tables import ENCODINGS
from halfbore.present.wording import counted
from halfbore.store import paths
from halfbore.web.desk import KEPT, Desk
from halfbore.web.drafts import SURVEY, MeanwhileError, SurveyDraft
from halfbore.web.fields import text_of
from halfbore.web.page import AtDesk, Form, Place, Uploads, show
from halfbore.workspace import survey_changes, survey_view
from halfbore.workspace import survey_mapping as mapping
from halfbore.workspace.mending import bad_cells, mended
from halfbore.workspace.survey import SurveyPreview, preview
from halfbore.workspace.toml_text import toml_text

router = APIRouter(prefix="/import", include_in_schema=False)
HERE = Place("import")
FIRST_ROWS, FIRST_CHANGES, FIRST_REMARKS, FIRST_REJECTS, TOLD_VALUES = 12, 30, 20, 40, 6


@router.get("")
def begin(request: Request, desk: AtDesk) -> Response:
    """Show what is uploaded, and take another file."""
    return _begin(request, desk, None)


def _begin(request: Request, desk: Desk, error: HalfboreError | None) -> Response:
    states = [(one, _state(one.state)) for one in desk.drafts.open(SURVEY)]
    record = {"drafts": states, "error": error, "most": limits.FILE_SIZE, "kept": KEPT}
    return show(request, "import.html", HERE, record, 422 if error else 200)


def _state(of: Plain) -> str:
    if of["rejects"]:
        return f"{counted(len(of['rejects']), 'row')} to be mended"
    if of["done"]:
        return f"brought in but {counted(len(of['aside']), 'row')} put aside"
    left = 0 if of["mapping"] is None else len(mapping.open_in(of["mapping"]))
    return f"{counted(left, 'question')} open" if left else "ready to be brought in"


@router.post("")
def upload(request: Request, desk: AtDesk, uploads: Uploads) -> Response:
    """Take a survey. Good rows go nowhere yet."""
    try:
        if not uploads:
            raise InputError(
                Problem("no file was chosen", accepted="a CSV or XLSX file", next_step="choose one")
            )
        draft = desk.drafts.survey(uploads[0].name, uploads[0].data)
    except InputError as error:
        return _begin(request, desk, error)
    return RedirectResponse(address(draft, "preview" if draft.own else ""), 303)


def address(draft: SurveyDraft, room: str = "", **query: str) -> str:
    """Return the address of an upload, or of what is done with it."""
    kept = {name: text for name, text in query.items() if text}
    return f"/import/{draft.key}{'/' + room if room else ''}{'?' + urlencode(kept) if kept else ''}"


@router.get("/{key}")
def look(request: Request, desk: AtDesk, key: str, sheet: Annotated[str | None, Query()] = None) -> Response:
    """Show the mapping of a survey, one sheet of it."""
    draft = desk.survey(key)
    if draft.own:
        return RedirectResponse(address(draft, "preview"), 303)
    return _look(request, draft, sheet, None)


def _look(
    request: Request,
    draft: SurveyDraft,
    sheet: str | None,
    error: HalfboreError | None,
    typed: Mapping[str, str] | None = None,
) -> Response:
    data = draft.mapping or {}
    states = survey_view.states(draft.book, data)
    opened = mapping.open_in(data)
    first = next((s.name for s in states if s.open), states[0].name if states else "")
    name = first if sheet is None else sheet
    view = survey_view.view(draft.book, data, name)
    record = {
        "draft": draft,
        "states": states,
        "view": view,
        "fields": survey_view.fields_for(view.thing),
        "things": [thing.value for thing in Thing],
        "signs": mapping.SIGNS,
        "opened": opened,
        "here_open": [problem for of, problem in opened if of == name],
        "blanks": survey_view.blanks_of(data),
        "encodings": ENCODINGS,
        "delimiters": DELIMITERS,
        "error": error,
        "typed": typed or {},
        "draft_page": address,
        "OPEN": OPEN,
    }
    status = 409 if isinstance(error, MeanwhileError) else 422 if error else 200
    return show(request, "import_mapping.html", HERE, record, status)


@router.post("/{key}")
def change(request: Request, desk: AtDesk, form: Form, uploads: Uploads, key: str) -> Response:
    """Change the mapping: of a sheet, of the whole file, or by a mapping file."""
    draft = desk.survey(key)
    sheet = form.get("sheet", "")
    does: dict[str, Callable[[], Plain]] = {
        "keep": lambda: _kept(draft, form, sheet),
        "read": lambda: survey_changes.read_sheet(
            draft.book, _data(draft), sheet, _thing(form), _header(form)
        ),
        "leave": lambda: survey_changes.leave_sheet(draft.book, _data(draft), sheet),
        "file": lambda: survey_changes.with_file(
            _data(draft), form.get("blanks", ""), form.get("encoding", ""), form.get("delimiter", "")
        ),
        "mapping": lambda: _uploaded(uploads, draft),
    }
    asked = form.get("do", "")
    try:
        if asked not in does:
            raise InputError(Problem("is nothing that can be done here", "do", asked[:64], ", ".join(does)))
        with draft.lock:
            if form.get("version", str(draft.version)) != str(draft.version):
                step = "look at what stands there now, and keep yours again where it still holds"
                raise MeanwhileError(Problem("the mapping was changed meanwhile", draft.name, next_step=step))
            draft.change(does[asked]())
    except InputError as error:
        return _look(request, draft, sheet, error, form)
    to = "" if asked == "mapping" else sheet
    return RedirectResponse(address(draft, sheet=to) + ("#sheet" if to else ""), 303)


def _data(draft: SurveyDraft) -> Plain:
    if draft.mapping is None:
        raise InputError(Problem("a sheet of ours needs no mapping", draft.name))
    return draft.mapping


def _kept(draft: SurveyDraft, form: Mapping[str, str], sheet: str) -> Plain:
    return survey_changes.set_sheet(draft.book, _data(draft), sheet, given_of(form))


def _thing(form: Mapping[str, str]) -> Thing:
    try:
        return Thing(form.get("rows", ""))
    except ValueError:
        choices = ", ".join(Thing)
        raise InputError(
            Problem("is nothing that rows are about", "rows", form.get("rows", "")[:64], choices)
        ) from None


def _header(form: Mapping[str, str]) -> tuple[int, ...]:
    parts = form.get("header", "").replace(",", " ").split()
    if not parts or not all(part.isdecimal() and 0 < int(part[:9]) <= limits.ROWS for part in parts):
        accepted = "the number of a row, or of two: 3, 4"
        raise InputError(Problem("is no row of headings", "header", form.get("header", "")[:64], accepted))
    return tuple(sorted({int(part) for part in parts}))


def _uploaded(uploads: Uploads, draft: SurveyDraft) -> Plain:
    """Return the mapping of a file that was uploaded. Raises InputError where it is none."""
    if not uploads:
        raise InputError(Problem("no file was chosen", "mapping", accepted="a mapping file, *.toml"))
    data = uploads[0].data
    if len(data) > limits.MAPPING_SIZE:
        raise InputError(Problem("the mapping file is too large", "mapping", accepted="up to 1 MB"))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(Problem("cannot be read", "mapping", accepted="TOML in UTF-8")) from None
    found = mapping_data(text, "the mapping file")
    mapping.refuse_malformed(found)
    return mapping.settled_down(found, draft.book)


def given_of(form: Mapping[str, str]) -> survey_changes.SheetGiven:
    """Return what a form gives for a sheet: fields c0.field, c0.unit, c0.t0 and c0.m0 for texts and their meanings."""
    columns = [_column(form, at) for at in range(limits.COLUMNS) if f"c{at}.field" in form]
    cells = {key: form.get(f"cells.{key}", "") for key in mapping.SIGNS}
    fixed = {
        form[f"fixed.{i}"].strip(): form.get(f"fixed.{i}.text", "").strip()
        for i in range(40)
        if f"fixed.{i}" in form
    }
    texts = {key: form.get(key, "") for key in ("skip", "carry_down", "before")}
    return survey_changes.SheetGiven(tuple(columns), cells, **texts, fixed=fixed)


def _column(form: Mapping[str, str], at: int) -> survey_changes.ColumnGiven:
    words: dict[str, str] = {}
    number = 0
    while (text := form.get(f"c{at}.t{number}")) is not None:
        if text:
            words[text] = form.get(f"c{at}.m{number}", "").strip()
        number += 1
    unit, separator = form.get(f"c{at}.unit", "").strip(), form.get(f"c{at}.separator", "").strip()
    return survey_changes.ColumnGiven(at, form[f"c{at}.field"].strip(), unit, separator, words)


@router.get("/{key}/mapping.toml")
def download(desk: AtDesk, key: str) -> Response:
    """Return the mapping as a file."""
    draft = desk.survey(key)
    return _file(toml_text(_data(draft)).encode(), "application/toml", f"{draft.name}.mapping.toml")


def _file(data: bytes, kind: str, name: str) -> Response:
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name, safe='')}"}
    return Response(data, media_type=kind, headers=headers)


@dataclass(frozen=True)
class ToldRow:
    """A row as read: of what, its place, and what it tells, as typed."""

    told: Told
    values: tuple[tuple[str, str], ...]
    more: int


@router.get("/{key}/preview")
def before(request: Request, desk: AtDesk, key: str) -> Response:
    """Show what would be brought in."""
    return _preview(request, desk, desk.survey(key), None)


def _preview(request: Request, desk: Desk, draft: SurveyDraft, error: HalfboreError | None) -> Response:
    found = None
    try:
        found = preview(desk.workspace, draft.book, draft.how())
    except InputError as problem:
        error = error or problem
    record = {
        "draft": draft,
        "found": found,
        "headline": _headline(found),
        "used": _used(found),
        "rows": [] if found is None else _told(found),
        "changes": [] if found is None else _changes(found),
        "counts": [] if found is None else _counts(found),
        "rejects": () if found is None else found.reading.rejects[:FIRST_REJECTS],
        "remarks": () if found is None else found.reading.remarks[:FIRST_REMARKS],
        "error": error,
        "draft_page": address,
        "named": named,
    }
    return show(request, "import_preview.html", HERE, record, 422 if error else 200)


def _headline(found: SurveyPreview | None) -> str:
    if found is None:
        return "It cannot be read as it stands."
    reading, used = found.reading, _used(found)
    wrong = f" {counted(len(reading.rejects), 'row')} must be mended." if reading.rejects else ""
    if not found.edits:
        return f"Nothing would change: the plant holds what {counted(used, 'row')} tell.{wrong}"
    new = counted(len(found.new), "new position") if found.new else "no new position"
    return (
        f"{counted(used, 'row')} would be brought in: {new}, {len(found.changed) or 'none'} changed.{wrong}"
    )


def _used(found: SurveyPreview | None) -> int:
    """Return how many rows would be brought in."""
    return 0 if found is None else found.reading.rows - len(found.reading.rejects) - len(found.reading.passed)


def _told(found: SurveyPreview) -> list[ToldRow]:
    """Return the first rows as read, some of each kind."""
    by_thing: dict[Thing, list[Told]] = {}
    for told in found.reading.told:
        by_thing.setdefault(told.thing, []).append(told)
    each = max(2, FIRST_ROWS // max(1, len(by_thing)))
    rows = []
    for kind in by_thing.values():
        for told in kind[:each]:
            values = tuple(_flat(told.data, ""))
            rows.append(ToldRow(told, values[:TOLD_VALUES], max(0, len(values) - TOLD_VALUES)))
    return rows


def _flat(data: Mapping[str, Any], above: str) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    for key, value in data.items():
        if isinstance(value, Mapping):
            found += _flat(value, f"{above}{key}.")
        else:
            text = text_of(value) or counted(len(value) if isinstance(value, list) else 0, "entry", "entries")
            found.append((f"{above}{key}".replace("_", " "), text))
    return found


@dataclass(frozen=True)
class ChangeRow:
    """A value that would change."""

    where: str
    path: str
    old: str
    new: str


def _changes(found: SurveyPreview) -> list[ChangeRow]:
    """Return values that would change in what is there already."""
    rows = []
    for edit in found.edits:
        if edit.path and edit.address in found.before:
            old = paths.get(found.before[edit.address], edit.path)
            rows.append(ChangeRow(named(edit.address), edit.path, _short(old), _short(edit.new)))
    return rows[:FIRST_CHANGES]


def _short(value: Any) -> str:
    if isinstance(value, (list, dict)) and not text_of(value):
        return counted(len(value), "entry", "entries")
    return text_of(value)


def _counts(found: SurveyPreview) -> list[tuple[str, int]]:
    """Return how many things would be new, by kind, and how many values would change."""
    kinds = ("plant", "new machines", "new shaft lines", "new positions")
    new = [edit for edit in found.edits if _is_new(edit, found)]
    counts = [(kinds[n], sum(len(e.address) == n for e in new)) for n in (1, 2, 3)]
    return [*counts, ("values changed", len(found.edits) - len(new))]


def _is_new(edit: Edit, found: SurveyPreview) -> bool:
    return not edit.path and edit.address not in found.before


@router.post("/{key}/preview")
def bring(request: Request, desk: AtDesk, key: str) -> Response:
    """Bring it in."""
    draft = desk.survey(key)
    try:
        draft.bring_in(desk.workspace, desk.who)
    except InputError as error:
        return _preview(request, desk, draft, error)
    return RedirectResponse(address(draft, "rows"), 303)


@dataclass(frozen=True)
class RejectRow:
    """A rejected row: its number in the list, its bad cells with what is wrong, what is wrong of the row itself."""

    number: int
    reject: Reject
    bad: list[tuple[int, Problem]]
    others: list[Problem]

    def cell(self, at: int) -> str:
        """Return the text of a cell."""
        return self.reject.cells[at] if at < len(self.reject.cells) else ""

    @property
    def about(self) -> str:
        """What the row begins with, so that it is known again."""
        return ", ".join([cell for cell in self.reject.cells if cell][:3])


@router.get("/{key}/rows")
def rows(request: Request, desk: AtDesk, key: str) -> Response:
    """Show what came of it, and the rows that wait to be mended."""
    return _rows(request, desk.survey(key), None)


def _rows(request: Request, draft: SurveyDraft, error: HalfboreError | None) -> Response:
    waiting = [_reject_row(n, one) for n, one in enumerate(draft.rejects[:FIRST_REJECTS])]
    record = {
        "draft": draft,
        "done": draft.done,
        "waiting": waiting,
        "error": error,
        "draft_page": address,
        "remarks": draft.done.reading.remarks[:FIRST_REMARKS] if draft.done else (),
    }
    return show(request, "import_rows.html", HERE, record, 422 if error else 200)


def _reject_row(number: int, reject: Reject) -> RejectRow:
    bad = bad_cells(reject)
    told = [problem for _, problem in bad]
    return RejectRow(number, reject, bad, [p for p in reject.problems if p not in told])


@router.post("/{key}/rows")
def mend(request: Request, desk: AtDesk, form: Form, key: str) -> Response:
    """Bring rows in again as they are mended; put rows aside, or take them back."""
    draft = desk.survey(key)
    try:
        with draft.lock:
            if form.get("version", str(draft.version)) != str(draft.version):
                raise MeanwhileError(Problem("the rows were mended meanwhile", draft.name))
            if form.get("do") == "back":
                draft.take_back()
            else:
                _mend(desk, draft, form)
    except InputError as error:
        return _rows(request, draft, error)
    return RedirectResponse(address(draft, "rows"), 303)


def _mend(desk: Desk, draft: SurveyDraft, form: Mapping[str, str]) -> None:
    rows = []
    for number, reject in enumerate(draft.rejects):
        names = {at: f"r{number}.{at}" for at in range(len(reject.headings))}
        rows.append(mended(reject, {at: form[name] for at, name in names.items() if name in form}))
    aside = [number for number in range(len(rows)) if f"r{number}.aside" in form]
    draft.mend(desk.workspace, desk.who, rows, aside)


@router.get("/{key}/rejects.xlsx")
def rejects(desk: AtDesk, key: str) -> Response:
    """Return the rows that are not in, those put aside among them, as a workbook."""
    draft = desk.survey(key)
    if draft.done is None or not (draft.rejects or draft.aside):
        raise InputError(Problem("no row is rejected", draft.name))
    reading = replace(draft.done.reading, rejects=(*draft.rejects, *draft.aside))
    with TemporaryDirectory(prefix="halfbore-") as folder:
        path = Path(folder) / "rejects.xlsx"
        write_rejects(path, reading, draft.how())
        data = path.read_bytes()
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    return _file(data, kind, f"{draft.name.rpartition('.')[0] or draft.name}.rejects.xlsx")


@router.post("/{key}/close")
def close(desk: AtDesk, key: str) -> Response:
    """Forget an upload; what is brought in stays."""
    desk.drafts.drop(desk.survey(key).key)
    return RedirectResponse("/import", 303)
