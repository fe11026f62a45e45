"""The body as it lies: parts with shapes, stuffs and places, read from a text."""
