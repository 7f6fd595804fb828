"""From what every photo says of a coupon to what is on it: what stays is rust, what goes was dirt."""
