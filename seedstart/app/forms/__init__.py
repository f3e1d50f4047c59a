"""Small forms in which a grower writes down what was done or seen; none of them records."""
