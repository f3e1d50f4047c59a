"""What stands where, and whether it fits."""
