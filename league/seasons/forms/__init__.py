"""The forms of the seasons room."""
