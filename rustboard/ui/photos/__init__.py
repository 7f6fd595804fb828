"""The photo screen: the days, the board as photographed, one coupon large with what was measured on it."""
