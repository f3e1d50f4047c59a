"""What is to be done today: a function a check."""
