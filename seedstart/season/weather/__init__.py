"""Weather as files have it: what stations publish, what a grower measured, what is forecast."""
