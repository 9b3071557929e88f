"""Suppliers' catalogues: whether they hold together, what they leave out, what is filled in."""
