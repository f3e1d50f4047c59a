"""What the handbooks know of a crop, and the source of each figure."""
