"""The pages of the seasons room."""
