"""How long coupons stayed above the failing grade, known only as intervals between inspections."""
