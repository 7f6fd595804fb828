"""What is known of every coupon and of every group of replicates, before anything is compared."""
