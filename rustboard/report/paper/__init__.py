"""Pages for the workshop, as shapes and texts in millimetres, without any drawing library."""
