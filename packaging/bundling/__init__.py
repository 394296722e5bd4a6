"""The parts of ``bundle.py``: what goes in, its licences, its place on Linux, and a trial."""
