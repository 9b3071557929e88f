"""`python -m halfbore`: the same as the command `halfbore`."""

from halfbore.cli.main import run

run()
