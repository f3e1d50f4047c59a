"""From the frost date back to the sowing, and forward again."""
