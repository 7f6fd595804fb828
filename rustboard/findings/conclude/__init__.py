"""The whole of the findings of one board."""
