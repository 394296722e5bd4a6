"""The screen of the road: one step large, the following ones beside it."""
