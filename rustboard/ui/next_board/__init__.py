"""The next board with one thing changed: what is repeated, and what is to be otherwise."""
