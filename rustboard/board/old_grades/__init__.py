"""Old tables of grades: how they are laid out, what their cells mean, and the board that they make."""
