"""What every part of the command line knows before any library is loaded: the commands and their help."""

from __future__ import annotations

COMMANDS = {
    "run": "everything for one machine: loads, units, order, changeover, value, proposal",
    "loads": "what acts on the shaft, and the reactions at its bearings",
    "check": "every check of the chosen unit at each position, with its source",
    "select": "the chosen unit, the next one, and what turned the others away",
    "order": "order code, bill of materials, spares, and the supplier's questions",
    "changeover": "both plans hour by hour: one-piece bearing and split unit",
    "value": "hours and money with their ranges, and when the answer is no",
    "write": "the proposal as PDF, and as XLSX on request",
    "calc": "one calculation alone: halfbore calc --list",
    "code": "an order code in words, or words as an order code",
    "demo": "the invented plant: job files, catalogues and one finished run in a folder",
}

_WIDTH = max(map(len, COMMANDS))
HELP = "\n".join(
    [
        "Usage: halfbore COMMAND [OPTIONS]",
        "",
        "From survey to proof: split roller bearing units for trapped positions.",
        "",
        *(f"  {name:{_WIDTH}}  {what}" for name, what in COMMANDS.items()),
        "",
        "  halfbore COMMAND --help   what a command takes",
        "  halfbore --version",
        "",
        "Start with:  halfbore demo halfbore-demo",
        "Exit codes: 0 answered, also when the answer is no; 2 input wrong; 3 with --require",
        "where nothing holds; 1 a fault of the program.",
    ]
)


class ReaderGone(Exception):  # noqa: N818
    """Whoever read the output has seen enough."""
