"""What every part of the command line knows before any library is loaded: the commands and their help."""

from __future__ import annotations

COMMANDS = {
    "new": "a workspace: one file that holds a plant",
    "import": "a survey, a supplier's catalogue or a job file into it",
    "list": "positions by worth, machines, catalogues, documents",
    "show": "one machine, position or catalogue",
    "set": "values of a machine or a position",
    "history": "who changed what and when",
    "undo": "take a change back",
    "backup": "a whole copy of the workspace",
    "serve": "the whole job in the browser, for you or for a team",
    "user": "who works on it in the browser, and in which role",
    "run": "everything for one machine, or all positions by worth",
    "loads": "what acts on the shaft, and the reactions at its bearings",
    "check": "every check of the chosen unit, with its source",
    "select": "the chosen unit, the next, what turned the others away",
    "order": "order code, parts, spares, and the supplier's questions",
    "changeover": "both plans by the hour: one-piece bearing and split unit",
    "value": "hours and money with ranges, and when the answer is no",
    "write": "proposal, job file, ranking, empty survey sheet",
    "calc": "one calculation alone: halfbore calc --list",
    "code": "an order code in words, or words as an order code",
    "demo": "the invented plant, from its survey to three proposals",
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
        "Exit codes: 0 answered, also when the answer is no; 2 input wrong; 3 with",
        "--require where nothing holds; 1 a fault of the program.",
    ]
)


INTERRUPTED = 130
"""Exit code where somebody stopped the program, as shells have it."""
SET_EXAMPLES = """Examples:

  halfbore set F1-A seat.diameter='159.98 mm to 160 mm'

  halfbore set F1-A 'history[+].on=2026-11-02' 'history[+].why=overload'

  halfbore set F1-A 'history[2026-11-02].stop=9 h' 'history[0].stop='

  halfbore set F1 'loads[+]={kind="point load", name="guard", mass="9 kg"}'

A list's entry is meant by its name, its date or its place from 0; [+] is a new one. Several [+] of one list in a command
fill one entry, field by field; a field that comes again begins the next, and so does a whole entry in braces."""
"""What `halfbore set --help` ends with."""


class ReaderGone(Exception):  # noqa: N818
    """Whoever read the output has seen enough."""
