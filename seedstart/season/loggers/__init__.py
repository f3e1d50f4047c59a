"""What loggers measured: foreign files understood, the tidy file, readings in memory."""
