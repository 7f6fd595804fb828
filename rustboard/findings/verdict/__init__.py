"""The findings in sentences, never stronger than the figures."""
