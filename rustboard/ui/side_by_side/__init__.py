"""Which of two coupons is more rusted: what is asked before, the pairs, and the order that comes out."""
