"""Several boards taken together: each board a block."""
