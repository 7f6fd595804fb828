"""The board as a grid of tiles, and the same board as a table."""
