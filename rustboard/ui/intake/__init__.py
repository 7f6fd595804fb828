"""Photos on their way onto the board."""
