"""A screen a module: the round first."""
