"""Practice in grading: drawn coupons of known percent, the truth, and how one's offset and spread change."""
