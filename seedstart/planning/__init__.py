"""What is to come: windows for every step of every lot."""
