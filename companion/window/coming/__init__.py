"""The screen of what comes: the next hour, this night, this month, this year."""
