"""How the coupons hang on a photo: outlines found again, suggested, checked and aligned."""
