"""A picture to look at closely and to draw on, shared by the screens."""
