"""Finish and protectant apart, where the treatments form a grid."""
