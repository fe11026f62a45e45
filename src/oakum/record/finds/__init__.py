"""What the log says of the finds: register, numbers, readings, weights, and what is open."""
