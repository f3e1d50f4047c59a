"""What is wrong today: a function an alert."""
