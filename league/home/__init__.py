"""Pages that read from several rooms: the front page, a club, a player, the organiser's desk. Owns no rows."""
