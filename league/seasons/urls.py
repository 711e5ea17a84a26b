from __future__ import annotations

from django.urls import URLPattern, path, register_converter

from league.seasons.views import (
    boards,
    brackets,
    divisions,
    drafts,
    entrants,
    files,
    fixtures,
    forecast,
    formats,
    ladders,
    ratings,
    rounds,
    seasons,
    standings,
)


class Key:
    """The name that an entrant or a pairing has in the season's document."""

    regex = "[A-Za-z0-9][A-Za-z0-9._-]{0,39}"

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(Key, "key")

ROUND = "seasons/<int:pk>/rounds/<int:number>/"
PAIRING = f"{ROUND}pairings/<key:pairing>/"
ENTRANT = "seasons/<int:pk>/entrants/<key:entrant>/"

urlpatterns: list[URLPattern] = [
    path("seasons/", seasons.SeasonsPage.as_view(), name="seasons"),
    path("seasons/new/", seasons.SeasonNew.as_view(), name="season-new"),
    path("seasons/import/", files.SeasonImport.as_view(), name="season-import"),
    path("seasons/<int:pk>/", seasons.SeasonPage.as_view(), name="season"),
    path("seasons/<int:pk>/season.json", files.SeasonFile.as_view(), name="season-json"),
    path("seasons/<int:pk>/rules/", seasons.RulesEdit.as_view(), name="season-rules"),
    path("seasons/<int:pk>/format/", formats.FormatPage.as_view(), name="season-format"),
    path("seasons/<int:pk>/format/edit/", formats.FormatEdit.as_view(), name="season-format-edit"),
    path("seasons/<int:pk>/seeding/", formats.Seeding.as_view(), name="seeding"),
    path("seasons/<int:pk>/bracket/", brackets.BracketPage.as_view(), name="bracket"),
    path("seasons/<int:pk>/divisions/", divisions.DivisionsPage.as_view(), name="divisions"),
    path("seasons/<int:pk>/divisions/new/", divisions.DivisionNew.as_view(), name="division-new"),
    path("seasons/<int:pk>/divisions/<key:division>/edit/", divisions.DivisionEdit.as_view(), name="division-edit"),
    path("seasons/<int:pk>/next-season/", divisions.NextSeason.as_view(), name="next-season"),
    path("seasons/<int:pk>/fixtures/", fixtures.FixturesImport.as_view(), name="fixtures-import"),
    path("seasons/<int:pk>/ladder/", ladders.LadderPage.as_view(), name="ladder"),
    path("seasons/<int:pk>/challenge/", ladders.Challenge.as_view(), name="challenge"),
    path("seasons/<int:pk>/draw-up/", formats.DrawUp.as_view(), name="season-draw-up"),
    path("seasons/<int:pk>/close/", seasons.SeasonClose.as_view(), name="season-close"),
    path("seasons/<int:pk>/adjust/", seasons.Adjust.as_view(), name="adjust"),
    path("seasons/<int:pk>/forecast/", forecast.ForecastPage.as_view(), name="forecast"),
    path("ratings/", ratings.RatingsPage.as_view(), name="ratings"),
    path("seasons/<int:pk>/standings/", standings.StandingsPage.as_view(), name="standings"),
    path("seasons/<int:pk>/standings/<int:row>/<str:column>/", standings.CellPage.as_view(), name="standings-cell"),
    path("seasons/<int:pk>/entrants/new/", entrants.EntrantNew.as_view(), name="entrant-new"),
    path(f"{ENTRANT}edit/", entrants.EntrantEdit.as_view(), name="entrant-edit"),
    path(f"{ENTRANT}place/", formats.EntrantPlace.as_view(), name="entrant-place"),
    path(f"{ENTRANT}leave/", entrants.EntrantLeave.as_view(), name="entrant-leave"),
    path(f"{ENTRANT}return/", entrants.EntrantReturn.as_view(), name="entrant-return"),
    path("seasons/<int:pk>/rounds/new/", rounds.RoundNew.as_view(), name="round-new"),
    path("seasons/<int:pk>/open-play/", rounds.OpenPlay.as_view(), name="open-play"),
    path(ROUND, rounds.RoundPage.as_view(), name="round"),
    path(f"{ROUND}edit/", rounds.RoundEdit.as_view(), name="round-edit"),
    path(f"{ROUND}pair/", rounds.PairingNew.as_view(), name="pairing-new"),
    path(f"{ROUND}draft/", drafts.DraftPage.as_view(), name="round-draft"),
    path(f"{ROUND}pins/new/", drafts.PinNew.as_view(), name="pin-new"),
    path(f"{ROUND}pins/<int:pin>/remove/", drafts.PinRemove.as_view(), name="pin-remove"),
    path(f"{ROUND}board/", boards.BoardPage.as_view(), name="round-board"),
    path(f"{ROUND}sheet/", boards.SheetPage.as_view(), name="round-sheet"),
    path(f"{PAIRING}postpone/", drafts.Postpone.as_view(), name="pairing-postpone"),
    path(f"{PAIRING}remove/", rounds.Unpair.as_view(), name="pairing-remove"),
    path(f"{PAIRING}mark/", rounds.Mark.as_view(), name="pairing-mark"),
]
