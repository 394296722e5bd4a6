"""The screen of the place: site, clock, horizon."""
