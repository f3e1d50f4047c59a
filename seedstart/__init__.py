"""Indoor seed starting: a sowing calendar from the frost date, and a record of what came up."""
