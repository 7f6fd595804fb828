"""The timeline beside the board. Import `panel` only after the first paint: it loads the plotting library."""
