"""What the board says: verdict in sentences, then pictures, then tables, each figure with how it was got."""
