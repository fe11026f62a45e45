"""Entering, changing and taking over finds from what people type."""
