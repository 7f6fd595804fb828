"""How graders agree: sentences, the figures behind them, and the coupons on which they differ."""
