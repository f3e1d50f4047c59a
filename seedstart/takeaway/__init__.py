"""What leaves a season for other programs."""
