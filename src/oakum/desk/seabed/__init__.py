"""The seabed at the desk: readings from slates and sheets, what is held as known, the adjustment, what to do next."""
