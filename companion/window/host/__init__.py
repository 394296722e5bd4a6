"""The screen of a host's evening, and the page that its guests see."""
