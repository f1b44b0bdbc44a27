"""Parametric pieces: from a few measurements to a whole piece, one file a starter."""
