"""The threads, each the only owner of what it holds: ephemeris, charts, journal, names, plans."""
