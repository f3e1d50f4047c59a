"""Hardening off and setting out: steps, weather, what is against it."""
