"""Grades to conclusions: what a board can prove, and later what it has proved."""
