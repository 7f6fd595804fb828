"""What speaks against taking the findings of a board at their word."""
