"""Composition root: command line, start-up, crash file, demo. Knows everything, owns nothing."""
