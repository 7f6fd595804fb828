"""What screens about several boards share: the matched treatments, their words, and the work line."""
