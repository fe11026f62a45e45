"""The dig."""
