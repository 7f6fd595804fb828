"""An order of coupons from choices between two: which pair to ask next, what order comes out, and how sure it is."""
