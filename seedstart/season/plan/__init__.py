"""season.toml and lots.toml: bytes in, the plan or every fault out."""
