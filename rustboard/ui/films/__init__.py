"""Time-lapse films: what to film, and how it will look."""
