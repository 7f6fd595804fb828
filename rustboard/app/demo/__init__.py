"""The demo boards: a made-up shop, its two boards, their photos painted by our own code."""
