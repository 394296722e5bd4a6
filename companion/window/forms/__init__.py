"""Sheets on which something is typed."""
