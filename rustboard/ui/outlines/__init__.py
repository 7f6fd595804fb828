"""Outlines of coupons drawn on the straightened board."""
