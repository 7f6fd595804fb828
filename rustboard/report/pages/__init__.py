"""Pages set for paper: the report as a PDF, and its one-page summary."""
