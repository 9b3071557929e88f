"""Documents that leave the house: the proposal as PDF and the same as a workbook."""
