"""Percent by eye: a slider with the live picture of that percent, shared by the screens that grade."""
