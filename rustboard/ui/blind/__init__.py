"""Grading blind: what is asked before, the graders' rounds, and the way back."""
