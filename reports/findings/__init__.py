"""What reports of design checks and of design histories share: the shape, and what both say alike."""
