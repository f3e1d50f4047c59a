"""What stands in a season folder: bytes in, values and problems out."""
