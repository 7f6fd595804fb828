"""Clock, settings, paths, log, plain text: knows nothing of the trade."""
