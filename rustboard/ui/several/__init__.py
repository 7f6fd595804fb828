"""Several boards together: which ones, which of their treatments are the same, and what they say."""
