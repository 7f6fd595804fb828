"""Where a photo shows the board: four taps, and a look at whether the next photo is from the same place."""
