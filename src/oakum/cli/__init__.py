"""The command line: asks the desk, shows the answer."""
