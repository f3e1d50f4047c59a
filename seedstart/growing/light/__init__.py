"""Light at the leaf: how much, how even, what it costs, what a crop needs. Plain Python."""
