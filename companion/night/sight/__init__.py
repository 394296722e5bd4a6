"""What can be seen: the sky's brightness, the limits of eye and instrument, grades."""
