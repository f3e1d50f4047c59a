"""Rows of (text, role) that both faces show."""
