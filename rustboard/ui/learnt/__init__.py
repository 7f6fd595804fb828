"""What all boards of the shelf say of one treatment."""
