"""What happened between two inspections."""
