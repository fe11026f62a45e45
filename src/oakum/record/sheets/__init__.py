"""Spreadsheets as rows of text with addresses, and what a proposal made from one looks like."""
