"""The app: the round and its screens, in a terminal."""
