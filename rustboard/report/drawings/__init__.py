"""Drawings for paper and for pictures, written as SVG without any window."""
