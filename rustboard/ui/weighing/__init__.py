"""Weighed coupons and how corrosive the place is."""
