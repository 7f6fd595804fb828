"""The eleven keys with their reference pictures, shared by the screens that grade."""
