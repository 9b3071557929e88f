"""Errors in one shape: lines on stderr, or one JSON document on stdout."""

from __future__ import annotations

import json
import sys

from halfbore.errors import HalfboreError, InputError, Problem


def tell(error: Exception, as_json: bool) -> int:
    """Tell an error and return the exit code that belongs to it.

    error: anything that a command raised; as_json: one JSON document on stdout instead of lines on stderr.
    """
    known = _known(error)
    if as_json:
        print(json.dumps(known.as_dict(), ensure_ascii=False, indent=2))
    else:
        for problem in known.problems:
            print(f"halfbore: {problem.sentence()}", file=sys.stderr)
    return known.exit_code


def _known(error: Exception) -> HalfboreError:
    """Return an error of our own tree for any error."""
    if isinstance(error, HalfboreError):
        return error
    if hasattr(error, "format_message"):  # the command line itself was not understood
        step = "halfbore --help, or halfbore COMMAND --help, shows what there is"
        return InputError(Problem(_lower(error.format_message()), "command line", next_step=step))
    if isinstance(error, OSError) and error.filename:
        where, step = str(error.filename), "choose another place or free it"
        return InputError(Problem(f"cannot be used: {error.strerror}", where, next_step=step))
    what = f"a fault of the program, not of the input: {type(error).__name__}: {error}"
    step = "please report this line with the input and `halfbore --version`; HALFBORE_DEBUG=1 shows where it came from"
    return HalfboreError(Problem(" ".join(what.split()), next_step=step))


def _lower(message: str) -> str:
    return message[:1].lower() + message[1:].rstrip(".")
