"""Treatment recipes: the editor and the library."""
