"""Limits of what is read: past them the answer is a LimitError, never a slow or a full machine."""

from __future__ import annotations

FILE_SIZE = 20_000_000
"""Bytes of a table that is read."""
UNPACKED_SIZE = 200_000_000
"""Bytes of a workbook, counted while it is inflated."""
MEMBERS = 2_000
"""Files inside a workbook."""
MAPPING_SIZE = 1_000_000
"""Bytes of a mapping file."""
UPLOADS = 12
"""Uploads that wait to be brought in, of one user; the oldest goes when another one comes."""
UPLOADS_SIZE = 60_000_000
"""Bytes of them together."""
UPLOAD_DAYS = 30
"""Days that an upload is kept after it was changed last."""
ROWS = 100_000
COLUMNS = 500
CELLS = 5_000_000
TABLES = 30
"""Tables that one mapping joins."""
UNITS = 100_000
"""Units that the rows of a catalogue may stand for."""
QUANTITY_LENGTH = 64
"""Characters of a cell that holds a quantity."""
TEXT_LENGTH = 500
"""Characters of any cell."""
MERGED = 200_000
"""Cells of a sheet that merged ranges may cover."""
CELL_LENGTH = 32_767
"""Characters that a cell of a workbook can hold, and so a rejected one."""
CODE_LENGTH = 80
"""Characters of an order code."""
PROBLEMS = 50
"""Problems that are listed one by one; the rest is counted."""
READ_SECONDS = 60
"""Time that reading one workbook may take [s]."""
READ_MEMORY = 1_500_000_000
"""Memory that reading one workbook may take [bytes]."""
