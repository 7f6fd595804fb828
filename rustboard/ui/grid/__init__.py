"""What every picture of the board as a grid shares: where the places are, and carrying a coupon between them."""
