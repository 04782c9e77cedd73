"""Bytes to readings, and every way in which they can be wrong."""
