"""The chain of entries: what may enter, how it is sealed and checked, and the views computed from it."""
