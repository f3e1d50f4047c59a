"""What to do today: checks, alerts, and what an answer writes."""
