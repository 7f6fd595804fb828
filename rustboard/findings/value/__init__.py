"""What protection costs."""
