"""The command line: a thin shell that reads, calls one function and shows its record."""
