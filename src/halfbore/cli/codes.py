"""The command `code`: an order code in words, or words as a code."""

from __future__ import annotations

from pathlib import Path

from halfbore.calc.code import of_code, of_words
from halfbore.cli import calculations, show
from halfbore.demo.suppliers import DEMO, SUPPLIERS, load_catalogue
from halfbore.present.plain import plain_data, to_json
from halfbore.present.wording import sentence


def convert(text: str, catalogue: str, as_json: bool) -> None:
    """Show a code in words, or the code of a specification in a JSON file. Raises InputError."""
    names = [catalogue] if catalogue else [DEMO + name for name in SUPPLIERS]
    known = [load_catalogue(name, Path()) for name in names]
    words = text == "-" or text.endswith(".json") or Path(text).is_file()
    found = of_words(calculations.input_of(text), known) if words else of_code(text, known)
    if as_json:
        show.document(to_json(found))
        return
    show.heading(found.code)
    show.line(sentence(found.words))
    features = plain_data(found.specification)
    show.pairs((name.replace("_", " "), _word(value)) for name, value in features.items())
    if not found.in_catalogue:
        show.line("The catalogue holds no unit like this.")


def _word(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)
