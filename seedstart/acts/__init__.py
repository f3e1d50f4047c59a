"""What can be written down: one declaration an act, and one `read` for all that is typed."""
