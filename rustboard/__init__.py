"""Rustboard: plan, grade and judge boards of exposed coated steel coupons."""

__version__ = "0.1.0"
