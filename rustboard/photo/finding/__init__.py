"""Finding the board in a photo: by its markers, by an earlier photo, or by four taps. Arrays in, values out."""
