"""Dialogs: each asks for one thing and hands it back as a value of the domain; the caller carries it out."""
