"""One open board: operations in, change sets out; undo, redo, selection. No Qt."""
