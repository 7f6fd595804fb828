"""What a board shows: the verdict, pictures, tables, doubts."""
