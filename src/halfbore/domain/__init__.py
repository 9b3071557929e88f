"""Frozen records: what is known, asked, computed and decided. No calculation."""
