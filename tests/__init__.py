"""Tests, one folder for each room, and what several rooms are held against."""
