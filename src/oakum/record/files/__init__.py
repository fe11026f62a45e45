"""Photographs and files by the hash of their content."""
