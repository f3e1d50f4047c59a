"""Light at the leaf: what lamps give at each station, and how to set them."""
