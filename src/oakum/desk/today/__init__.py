"""What is due, open or withdrawn today."""
