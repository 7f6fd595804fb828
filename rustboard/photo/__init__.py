"""Photographs to pictures of coupons; measuring comes with later work."""
