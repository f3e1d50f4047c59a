"""Trials: planned, and what they show."""
