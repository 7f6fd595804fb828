"""Grading one coupon after the other, with reference pictures."""
