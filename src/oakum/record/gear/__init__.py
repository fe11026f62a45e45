"""What the log says of the gear: pieces, their papers, and a list of them from a spreadsheet."""
