"""The screen of the night: curves, tonight's list, rounds, the order."""
