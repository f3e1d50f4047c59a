"""trials/NAME.toml: what is tried, bytes in and out."""
