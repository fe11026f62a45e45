"""The desk: takes facts from the record, asks a room, and returns one result object a question."""
