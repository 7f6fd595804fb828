"""Readings to wetness: logger files read, merged and turned into exposure. Pure: bytes and arrays in, values out."""
