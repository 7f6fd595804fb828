"""A board packed to send, and one that was received."""
