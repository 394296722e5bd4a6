"""When: the night in steps, twilight, windows above the horizon."""
