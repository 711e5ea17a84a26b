"""What no schema can see in a season document: ids nobody has, one entrant in two places, results that cannot be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain

from league.engines.documents.reading import Fault
from league.engines.documents.season_parts import SeasonDocument, SeasonGame, SeasonSide
from league.engines.standings import violations_of

__all__ = ["faults_of"]

PAIR = 2
ALONE = frozenset({"bye", "absent"})
OUTCOMES_OF_TWO = frozenset({("loss", "win"), ("draw", "draw"), ("loss", "loss")})


def faults_of(season: SeasonDocument) -> list[Fault]:
    """Every fault across the parts of a document whose single parts are in order."""
    known = {entrant.id for entrant in season.entrants}
    return list(
        chain(
            _dates(season),
            (Fault(place="/rules", text=text) for text in violations_of([], [], [], season.rules)),
            _twice([entrant.id for entrant in season.entrants], "/entrants/{}/id", "Another entrant has this id."),
            _twice(
                [entrant.name for entrant in season.entrants], "/entrants/{}/name", "Another entrant has this name."
            ),
            _twice([each.number for each in season.rounds], "/rounds/{}/number", "Another round has this number."),
            _twice([game.id for game in season.games], "/games/{}/id", "Another game has this id."),
            _twice([each.id for each in season.divisions], "/divisions/{}/id", "Another division has this id."),
            _twice([each.level for each in season.divisions], "/divisions/{}/level", "Another has this level."),
            _twice([each.name for each in season.divisions], "/divisions/{}/name", "Another division has this name."),
            _divisions(season),
            _rounds(season),
            chain.from_iterable(_game(f"/games/{place}", game, known) for place, game in enumerate(season.games)),
            _seated_twice(season.games),
            (
                Fault(place=f"/adjustments/{place}/entrant", text="There is no such entrant.")
                for place, adjustment in enumerate(season.adjustments)
                if adjustment.entrant not in known
            ),
        )
    )


def _dates(season: SeasonDocument) -> Iterator[Fault]:
    if season.ends_on is not None and season.ends_on < season.starts_on:
        yield Fault(place="/ends_on", text="The season ends before it starts.")


def _twice(values: Sequence[object], place: str, text: str) -> Iterator[Fault]:
    seen = set()
    for index, value in enumerate(values):
        if value in seen:
            yield Fault(place=place.format(index), text=text)
        seen.add(value)


def _divisions(season: SeasonDocument) -> Iterator[Fault]:
    known = {each.id for each in season.divisions} | {""}
    for place, entrant in enumerate(season.entrants):
        if entrant.division not in known:
            yield Fault(place=f"/entrants/{place}/division", text="There is no such division.")


def _rounds(season: SeasonDocument) -> Iterator[Fault]:
    known = {each.number for each in season.rounds} | {0}
    for place, game in enumerate(season.games):
        if game.round not in known:
            yield Fault(place=f"/games/{place}/round", text=f"There is no round {game.round}.")


def _game(place: str, game: SeasonGame, known: Iterable[str]) -> Iterator[Fault]:
    for index, side in enumerate(game.sides):
        at = f"{place}/sides/{index}"
        if side.entrant not in known:
            yield Fault(place=f"{at}/entrant", text="There is no such entrant.")
        if side.unplayed and has_result(side):
            yield Fault(place=at, text="A side that played nothing has no outcome, no score and no counts.")
        elif game.report == "none" and has_result(side):
            yield Fault(place=at, text="There is a result, but no report is said to be filed.")
        elif game.report != "none" and not side.unplayed and side.outcome is None:
            yield Fault(
                place=at, text="A report is filed, but this side has neither an outcome nor a score to tell it."
            )
    for entrant, times in Counter(side.entrant for side in game.sides).items():
        if times > 1:
            yield Fault(place=f"{place}/sides", text=f"{entrant} is on {times} sides.")
    yield from _together(place, game)


def has_result(side: SeasonSide) -> bool:
    counted = side.counts or side.value_destroyed or side.value_lost
    return bool(side.outcome or side.score is not None or side.conceded or counted)


def no_result(side: SeasonSide) -> bool:
    return side.outcome is None and side.score is None


def _together(place: str, game: SeasonGame) -> Iterator[Fault]:
    playing = [side for side in game.sides if not side.unplayed]
    unplayed = [side.unplayed for side in game.sides if side.unplayed]
    if len(game.sides) == 1 and playing:
        yield Fault(place=f"{place}/sides", text="Nobody plays alone: a single side is a bye, a forfeit or an absence.")
    elif len(game.sides) > 1 and len(playing) == 1:
        yield Fault(place=f"{place}/sides", text="Only one side plays: say that it won by forfeit.")
    if len(game.sides) > 1 and ALONE.intersection(unplayed):
        yield Fault(place=f"{place}/sides", text="A bye or an absence is a game of one side.")
    if len(game.sides) == PAIR and unplayed.count("forfeit_win") == PAIR:
        yield Fault(place=f"{place}/sides", text="Both sides cannot win by forfeit.")
    if game.report != "none" and not playing:
        yield Fault(place=f"{place}/report", text="Nobody played, so there can be no report.")
    if game.scenario is not None and not playing:
        yield Fault(place=f"{place}/scenario", text="Nobody played, so there is no scenario.")
    if any(side.score is not None for side in playing) and any(no_result(side) for side in playing):
        yield Fault(place=f"{place}/sides", text="Some sides have a score and some have neither score nor outcome.")
    outcomes = tuple(sorted(side.outcome for side in playing if side.outcome))
    if len(playing) == len(outcomes) == PAIR and outcomes not in OUTCOMES_OF_TWO:
        yield Fault(place=f"{place}/sides", text=f"These outcomes cannot both be: {' and '.join(outcomes)}.")


def _seated_twice(games: Sequence[SeasonGame]) -> Iterator[Fault]:
    seen: dict[tuple[int, str], str] = {}
    for place, game in enumerate(games):
        for entrant in dict.fromkeys(side.entrant for side in game.sides):
            if game.round and (game.round, entrant) in seen:
                earlier = seen[game.round, entrant]
                yield Fault(
                    place=f"/games/{place}/sides", text=f"{entrant} is also in game {earlier} of round {game.round}."
                )
            seen.setdefault((game.round, entrant), game.id)
