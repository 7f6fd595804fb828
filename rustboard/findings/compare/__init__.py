"""Differences between groups: by a model with its intervals, and by exact tests that lean on the lots alone."""
