"""The screen of the sky: charts, ways, printed pages."""
