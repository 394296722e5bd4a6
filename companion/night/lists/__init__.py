"""Lists of targets read from files and written to them."""
