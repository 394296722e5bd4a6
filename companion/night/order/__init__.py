"""In which order least is lost."""
