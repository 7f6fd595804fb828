"""Loggers' files before their readings are taken over."""
