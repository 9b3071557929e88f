"""Entry of the command line: help and version at once, errors in one shape, exit codes."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from halfbore.cli.commands import HELP, INTERRUPTED, ReaderGone

OK, FAULT = 0, 1
DEBUG = "HALFBORE_DEBUG"
"""Set it to see where a fault of the program comes from."""


def run() -> None:
    """Run the command line and end with its exit code."""
    # Small matrices by the hundred: threads of the linear algebra cost four times what they give.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    sys.exit(main(sys.argv[1:]))


def main(arguments: Sequence[str]) -> int:
    """Run one command.

    arguments: as typed, without the name of the program.
    Returns the exit code: 0 answered, also when the answer is no; 2 input wrong; 3 required and nothing holds;
    1 a fault of the program.
    """
    if not arguments or arguments[0] in ("--help", "-h"):
        print(HELP)
        return OK
    if arguments[0] == "--version":
        return _version()
    try:
        return _called(arguments)
    except KeyboardInterrupt:
        return INTERRUPTED
    except (BrokenPipeError, ReaderGone):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return OK


def _called(arguments: Sequence[str]) -> int:
    """Run one command and tell what went wrong; whoever reads may be gone by then."""
    code = OK
    try:
        from halfbore.cli.app import call

        code = call(list(arguments))
    except (BrokenPipeError, ReaderGone):
        raise
    except Exception as error:
        if os.environ.get(DEBUG):
            raise
        from halfbore.cli.failure import tell

        code = tell(error, as_json="--json" in arguments)
    sys.stdout.flush()
    return code


def _version() -> int:
    from importlib.metadata import version

    print(f"halfbore {version('halfbore')}")
    return OK
