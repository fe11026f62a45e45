"""A find of the logbook weighed, its lift planned, released, and set against what happened."""
