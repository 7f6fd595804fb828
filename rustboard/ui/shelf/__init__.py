"""The shelf: all boards the user has."""
