"""Ratings out of games of many sides and of teams: Plackett-Luce, as openskill computes it.

The method is algorithm 4 of R. C. Weng and C.-J. Lin, "A Bayesian Approximation Method for Online Ranking", JMLR 12
(2011) 267-300. It goes game by game, so the order of the games matters and is the caller's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from types import MappingProxyType
from typing import Final

from openskill.models import PlackettLuce, PlackettLuceRating

from .model import BadGames

FEWEST_SIDES: Final = 2
NOBODY: Final[Mapping[str, Skill]] = MappingProxyType({})


@dataclass(frozen=True, kw_only=True, slots=True)
class SkillParameters:
    """A newcomer's `mu` and `sigma`; `beta` is how far luck reaches in one game; `tau` is added to what is unknown
    of everybody before every game, so that no skill is ever settled. The defaults are openskill's."""

    mu: float = 25.0
    sigma: float = 25.0 / 3.0
    beta: float = 25.0 / 6.0
    tau: float = 25.0 / 300.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Skill:
    """Mean and standard deviation of what is believed of a player."""

    mu: float
    sigma: float

    @property
    def cautious(self) -> float:
        """What the skill is at least, almost certainly: three deviations below the mean. For ordering a list."""
        return self.mu - 3 * self.sigma


@dataclass(frozen=True, kw_only=True, slots=True)
class ManyGame:
    """A game of two or more sides, each of one or more players. `ranks` has each side's place, 1 the best; sides with
    the same place drew."""

    id: str
    sides: tuple[tuple[str, ...], ...]
    ranks: tuple[int, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class SkillStep:
    """What one game made of its players' skills."""

    game_id: str
    skills: Mapping[str, Skill]


@dataclass(frozen=True, kw_only=True, slots=True)
class SkillHistory:
    """One step a game, in the order they were rated; `start` is what came before them."""

    parameters: SkillParameters
    steps: tuple[SkillStep, ...]
    start: Mapping[str, Skill]

    @property
    def last(self) -> Mapping[str, Skill]:
        """Everybody's skill now."""
        return self._after(len(self.steps))

    def before(self, game_id: str) -> Mapping[str, Skill]:
        """Everybody's skill before a game; KeyError for one that is not in this history."""
        for number, step in enumerate(self.steps):
            if step.game_id == game_id:
                return self._after(number)
        raise KeyError(game_id)

    def curve(self, player: str) -> tuple[tuple[str, Skill], ...]:
        """A player's games by id, each with the skill after it."""
        return tuple((step.game_id, step.skills[player]) for step in self.steps if player in step.skills)

    def _after(self, steps: int) -> Mapping[str, Skill]:
        skills = dict(self.start)
        for step in self.steps[:steps]:
            skills |= step.skills
        return MappingProxyType(skills)


def rate_many(
    games: Sequence[ManyGame],
    *,
    parameters: SkillParameters = SkillParameters(),
    start: Mapping[str, Skill] = NOBODY,
) -> SkillHistory:
    """Rates game after game, in the order given, from `start` on. After a correction, start from `before` the game
    that changed. Raises BadGames with every violation."""
    violations = tuple(_violations(games))
    if violations:
        raise BadGames(violations)
    model = _model(parameters)
    skills = dict(start)
    steps = []
    for game in games:
        teams = [[_rating(model, skills.get(player)) for player in side] for side in game.sides]
        rated = model.rate(teams, ranks=[float(rank) for rank in game.ranks])
        new = {
            player: Skill(mu=rating.mu, sigma=rating.sigma)
            for side, team in zip(game.sides, rated, strict=True)
            for player, rating in zip(side, team, strict=True)
        }
        skills |= new
        steps.append(SkillStep(game_id=game.id, skills=MappingProxyType(new)))
    return SkillHistory(parameters=parameters, steps=tuple(steps), start=MappingProxyType(dict(start)))


def win_chances(
    sides: Sequence[Sequence[Skill]],
    *,
    parameters: SkillParameters = SkillParameters(),
) -> tuple[float, ...]:
    """Each side's chance to come first, draws left aside; they add up to 1."""
    model = _model(parameters)
    return tuple(model.predict_win([[_rating(model, skill) for skill in side] for side in sides]))


def _model(parameters: SkillParameters) -> PlackettLuce:
    return PlackettLuce(mu=parameters.mu, sigma=parameters.sigma, beta=parameters.beta, tau=parameters.tau)


def _rating(model: PlackettLuce, skill: Skill | None) -> PlackettLuceRating:
    return model.rating() if skill is None else model.rating(mu=skill.mu, sigma=skill.sigma)


def _violations(games: Sequence[ManyGame]) -> Iterator[str]:
    twice = [game_id for game_id, times in Counter(game.id for game in games).items() if times > 1]
    yield from (f"Game {game_id} is there more than once." for game_id in twice)
    for game in games:
        if len(game.sides) < FEWEST_SIDES or not all(game.sides):
            yield f"Game {game.id}: it takes two sides or more, none of them empty."
        if len(game.ranks) != len(game.sides):
            yield f"Game {game.id}: {len(game.sides)} sides have {len(game.ranks)} places."
        players = Counter(chain.from_iterable(game.sides))
        yield from (f"Game {game.id}: {player} plays twice." for player, times in players.items() if times > 1)
