"""The same operations as JSON; what is wrong has the one shape of all errors."""
