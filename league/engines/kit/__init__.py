"""What every table of a night needs, and an exact plan of who brings what."""
