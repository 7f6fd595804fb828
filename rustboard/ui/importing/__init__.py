"""Old grades and photos on their way onto a board, step by step."""
