"""The gear register on a day, and entering pieces by hand or from a list."""
