"""What one photo says of each coupon: its light, the coupon's own unrusted look, and rust against it."""
