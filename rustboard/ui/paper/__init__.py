"""Paper: pages drawn with Qt for the preview, the printer and PDF files."""
