"""The trade's scales and standards as pure functions."""
