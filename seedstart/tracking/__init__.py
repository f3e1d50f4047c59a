"""What happened: the journal's entries folded into sowings and places, and joined by time."""
