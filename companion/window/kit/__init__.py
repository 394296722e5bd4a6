"""What every screen is made of: palette, type, lettering, symbols, lists, fields."""
