"""`manage.py recount` is clean on a club that was run by the services, and sees each thing that was tampered with."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from django.core.management import call_command

from league.battles.models import Game, Photo, Report, SidePlayer, SideResult
from league.clubs.models import Club, Invitation, Member, Night, Venue
from league.management.recount import CHECKS, mismatches
from league.rosters.models import Casualty, Engagement, Rolls, Snapshot
from league.rulesets.models import Edition
from league.seasons.models import EntrantPlayer, PairingSide, Season

pytestmark = pytest.mark.django_db

NOW = datetime(2026, 3, 20, tzinfo=UTC)


def overspend_an_invitation():
    Invitation.objects.update(uses_allowed=90, uses=80)


def take_the_organisers_away():
    Member.objects.update(is_organiser=False)


def move_a_night_to_another_club():
    neighbour = Club.objects.get(slug="upper-lock")
    hall = Venue.objects.create(club=neighbour, name="Elsewhere")
    Night.objects.filter(pk=Night.objects.first().pk).update(venue=hall)


def raise_a_snapshots_points():
    Snapshot.objects.filter(pk=Snapshot.objects.first().pk).update(points=1)


def set_a_standing_engagement_aside():
    Engagement.objects.filter(pk=Engagement.objects.first().pk).update(set_aside_at=NOW)


def turn_an_engagements_outcome_round():
    Engagement.objects.filter(outcome="win").update(outcome="draw")


def lose_more_figures_than_stood():
    Casualty.objects.filter(pk=Casualty.objects.first().pk).update(figures_lost=900)


def change_a_drawn_die():
    rolls = Rolls.objects.filter(source="drawn").first()
    Rolls.objects.filter(pk=rolls.pk).update(results=[roll % 6 + 1 for roll in rolls.results])


def throw_a_die_too_many():
    rolls = Rolls.objects.first()
    Rolls.objects.filter(pk=rolls.pk).update(results=[*rolls.results, 6])


def break_a_ruleset():
    Edition.objects.filter(pk=Edition.objects.first().pk).update(document={"format": "none"})


def seat_a_player_in_another_game():
    player = SidePlayer.objects.first()
    SidePlayer.objects.filter(pk=player.pk).update(game=Game.objects.exclude(players__member=player.member).first())


def give_both_sides_the_win():
    SideResult.objects.filter(report=Report.objects.first()).update(outcome="win")


def raise_a_score():
    SideResult.objects.filter(report=Report.objects.first()).update(score=999)


def count_destroyed_points_twice():
    result = SideResult.objects.exclude(engagement=None).first()
    SideResult.objects.filter(pk=result.pk).update(value_destroyed=result.value_destroyed + 1)


def swap_a_seed():
    Game.objects.filter(pk=Game.objects.first().pk).update(seed="ab" * 32)


def lose_a_photos_file():
    game = Game.objects.first()
    Photo.objects.create(game=game, file="photos/gone.jpg", width=1, height=1, by=game.created_by, at=NOW)


def seat_a_player_for_another_season():
    row = EntrantPlayer.objects.first()
    season = row.season
    season.pk, season.name = None, "Another"
    season.submission = "00000000-0000-4000-8000-000000000000"
    season.save(force_insert=True)
    EntrantPlayer.objects.filter(pk=row.pk).update(season=Season.objects.get(name="Another"))


def say_a_player_did_not_come_after_all():
    seat = PairingSide.objects.filter(unplayed="", pairing__game__reports__isnull=False).first()
    PairingSide.objects.filter(pk=seat.pk).update(unplayed="forfeit_loss")


TAMPERED = {
    overspend_an_invitation: "invitations",
    take_the_organisers_away: "clubs have an organiser",
    move_a_night_to_another_club: "rows stay within their club",
    raise_a_snapshots_points: "snapshots",
    set_a_standing_engagement_aside: "engagements",
    turn_an_engagements_outcome_round: "engagements",
    lose_more_figures_than_stood: "casualties",
    change_a_drawn_die: "dice",
    throw_a_die_too_many: "dice",
    break_a_ruleset: "rulesets",
    seat_a_player_in_another_game: "players",
    give_both_sides_the_win: "scores",
    raise_a_score: "scores",
    count_destroyed_points_twice: "scores",
    swap_a_seed: "seeds",
    lose_a_photos_file: "photos",
    seat_a_player_for_another_season: "entrants",
    say_a_player_did_not_come_after_all: "pairings",
}


def lines_of(check: str) -> list[str]:
    name = next(name for name in CHECKS if name.startswith(check))
    return list(CHECKS[name]())


def test_a_club_run_by_the_services_has_no_mismatch(demo):
    assert list(mismatches()) == []


@pytest.mark.parametrize("tamper", TAMPERED, ids=lambda tamper: tamper.__name__)
def test_recount_sees_what_was_tampered_with(demo, tamper):
    tamper()
    assert lines_of(TAMPERED[tamper]) != []


def test_the_command_prints_each_mismatch_and_fails(demo, capsys):
    raise_a_snapshots_points()
    with pytest.raises(SystemExit) as ended:
        call_command("recount")
    assert ended.value.code == 1
    assert "1 mismatches" in capsys.readouterr().out


def test_the_command_is_content_with_a_sound_club(demo, capsys):
    call_command("recount")
    assert f"{len(CHECKS)} checks, 0 mismatches" in capsys.readouterr().out
