"""How rust grew so far, how it may go on, and whether it is time to stop."""
