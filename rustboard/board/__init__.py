"""The domain: boards, coupons, treatments, inspections and grades as plain values with their rules."""
