"""Every change to a board, as plain functions on a transaction."""
