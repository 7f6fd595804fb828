"""The workbook and the tidy tables."""
