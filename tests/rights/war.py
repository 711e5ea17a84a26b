"""A war of two turns: `member` leads the Commons, `opponent` the Wardens; turn 2 takes orders."""

from __future__ import annotations

from uuid import uuid4

from league.campaigns.services.stories import tell_story
from league.clubs.models import Club, Member
from tests import factories
from tests.campaigns.play import begin


def war_values(club: Club, *, member: Member, opponent: Member) -> dict[tuple[str, str], object]:
    umpire = Member.objects.filter(club=club, is_umpire=True).first() or factories.MemberFactory(
        club=club, is_umpire=True
    )
    played = begin(club, umpire=umpire, commons=member, wardens=opponent)
    played.quiet_turn()
    story = tell_story(played.campaign, turn=1, title="Mud", text="Mud.", submission=uuid4(), by=member)
    return {
        ("campaigns", "pk"): played.campaign.pk,
        ("campaigns", "campaign"): played.campaign.pk,
        ("turns", "turn"): 1,
        ("stories", "story"): story.pk,
    }
