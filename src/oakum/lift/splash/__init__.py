"""Splash."""
