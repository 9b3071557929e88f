"""A formula as people write it: powers with ^, ranges in words, and the same with the numbers put in."""

from __future__ import annotations

import ast
import math
from collections.abc import Mapping
from typing import Any

from halfbore.numbers import MINUS

_WORDS = {"Max": "max", "Min": "min", "log": "ln"}


def readable(formula: str, values: Mapping[str, str] | None = None) -> str:
    """Return a formula in the notation of a textbook; names that have a value are replaced by it."""
    tree = _Written(values or {}).visit(ast.parse(formula, mode="eval"))
    text = ast.unparse(tree)
    for old, new in ((" ** ", "^"), (" * ", "·"), (" / ", "/")):
        text = text.replace(old, new)
    return text.replace("-", MINUS)


class _Written(ast.NodeTransformer):
    """Puts words in the place of calls, and values in the place of names."""

    def __init__(self, values: Mapping[str, str]) -> None:
        self.values = values

    def visit_Name(self, node: ast.Name) -> ast.Name:
        """Return a value, or the name itself."""
        text = self.values.get(node.id, "π" if node.id == "pi" else node.id)
        return ast.Name(f"({text})" if text.startswith(MINUS) or "^" in text else text)

    def visit_Call(self, node: ast.Call) -> ast.expr:
        """Return a function by its usual name; ranges as the value of each with its condition."""
        assert isinstance(node.func, ast.Name)
        name = node.func.id
        if name == "Piecewise":
            return ast.Name(f"({'; '.join(map(self._branch, node.args))})")
        arguments = [ast.unparse(self.visit(one)) for one in node.args]
        if name == "Abs":
            return ast.Name(f"|{arguments[0]}|")
        if name == "log" and len(arguments) == 2:
            return ast.Name(f"log10({arguments[0]})")
        return ast.Name(f"{_WORDS.get(name, name)}({', '.join(arguments)})")

    def _branch(self, pair: ast.expr) -> str:
        assert isinstance(pair, ast.Tuple)
        value, condition = pair.elts
        told = ast.unparse(self.visit(value))
        if isinstance(condition, ast.Constant):
            return f"else {told}"
        return f"{told} where {ast.unparse(self.visit(condition))}"


def number(value: object) -> str:
    """Return a value of a working with six digits, columns with their ends; what is not a number is not given."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return f"({', '.join(map(number, value))})"
    ravel = getattr(value, "ravel", None)
    numbers: list[Any] = [value] if ravel is None else ravel().tolist()
    if not all(isinstance(n, int | float) for n in numbers):
        return str(value)
    shown = [_digits(n) for n in numbers]
    if len(set(shown)) == 1:
        return shown[0]
    if len(shown) > 6:
        shown = [*shown[:3], f"… {len(numbers)} values …", shown[-1]]
    return f"[{', '.join(shown)}]"


def _digits(value: float) -> str:
    if math.isnan(value):
        return "not given"
    if math.isinf(value):
        return "without limit"
    mantissa, _, exponent = f"{value:.6g}".partition("e")
    return (f"{mantissa}·10^{int(exponent)}" if exponent else mantissa).replace("-", MINUS)
