"""What every list of this room knows."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from league.web import Table

__all__ = ["OfClub"]


class OfClub(Table):
    """A list inside a club: knows its address, and whether the reader runs the season."""

    def __init__(self, *args: Any, club: str, runs: bool = False, **options: Any) -> None:
        self.club = club
        self.runs = runs
        super().__init__(*args, **options)

    def address(self, name: str, **kwargs: Any) -> str:
        return reverse(name, kwargs={"club": self.club, **kwargs})
