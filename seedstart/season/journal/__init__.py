"""The journal: its entries, its lines, and what is set aside."""
