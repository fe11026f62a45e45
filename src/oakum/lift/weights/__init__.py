"""What the body weighs: draws, states, centres, the load as it leaves the water."""
