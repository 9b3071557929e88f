"""Every unit of every catalogue against a position: checks, sweep, ranking, relaxation."""
