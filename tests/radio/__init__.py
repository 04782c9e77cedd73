"""Units and what follows from them."""
