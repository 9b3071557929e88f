"""Propose the mapping of a supplier's tables: what can be told from headings and cells, and `?` for the rest."""
