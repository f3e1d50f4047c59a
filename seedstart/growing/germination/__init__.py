"""Germination as counted: indices, intervals, time curves, comparing, ageing."""
