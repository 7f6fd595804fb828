"""Boards beside one another: a treatment a row, a board a column, as of one place on a clock."""
