"""What lots teach: tests, rates to sow, one beside another, the next season."""
