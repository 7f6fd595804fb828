"""What is wrong with a coupon beside its rust: noted, rated where a standard has a rating, apart from the grade."""
