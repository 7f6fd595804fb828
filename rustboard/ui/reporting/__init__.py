"""Asking for a report: its forms, parts and looks, and the shop that makes it."""
