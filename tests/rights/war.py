"""A war in its second turn: `member` leads the Commons, `opponent` the Wardens. A report of turn 1 was corrected since;
a battle is open, and dice are wanted for another."""

from __future__ import annotations

from uuid import uuid4

from django.utils import timezone

from league.battles.services.reports import ReportClaim, SideClaim, correct_report
from league.campaigns.models import Campaign, Fact, Seat
from league.campaigns.services.drawing_up import import_campaign
from league.campaigns.services.enlisting import enlist
from league.campaigns.services.stories import tell_story
from league.clubs.models import Club, Member
from league.engines import war
from tests import factories
from tests.campaigns.play import begin


def war_values(club: Club, *, member: Member, opponent: Member) -> dict[tuple[str, str], object]:
    umpire = Member.objects.filter(club=club, is_umpire=True).first() or factories.MemberFactory(
        club=club, is_umpire=True
    )
    played = begin(club, umpire=umpire, commons=member, wardens=opponent)
    report = played.report(played.game(played.meet()), winner="wardens")
    played.close()
    sides = [SideClaim(position=side.position, score=5) for side in report.game.sides.all()]
    claim = ReportClaim(fought_on=timezone.localdate(), sides=sides, is_full=True)
    correct_report(report, claim=claim, reason="A draw.", submission=uuid4(), by=umpire)
    story = tell_story(played.campaign, turn=1, title="Mud", text="Mud.", submission=uuid4(), by=member)
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)), war.Move(force="sappers", roads=("north",)))
    played.orders("wardens", war.Move(force="guard", roads=("south",)))
    return {
        **draft_values(club, played.campaign, umpire=umpire, member=member),
        ("campaigns", "pk"): played.campaign.pk,
        ("campaigns", "campaign"): played.campaign.pk,
        ("turns", "turn"): 1,
        ("stories", "story"): story.pk,
        ("dice", "place"): 0,
        ("battles", "battle"): next(each.id for each in played.war().now.battles if each.region == "sedge"),
        ("corrections", "fact"): Fact.objects.get(campaign=played.campaign, kind=Fact.Kind.OUTCOME).pk,
    }


def draft_values(club: Club, running: Campaign, *, umpire: Member, member: Member) -> dict[tuple[str, str], object]:
    """A war that is drawn up still, with a roster of `member`'s enlisted; and the seat of theirs in the running one."""
    document = {**running.document, "name": "The next war", "forces": []}
    draft = import_campaign(club, edition=running.edition, document=document, submission=uuid4(), by=umpire)
    roster = factories.RosterFactory(owner=member, ruleset=running.edition.ruleset)
    factories.UnitFactory(roster=roster, unit_class="foot", figures=5, points=10)
    enlisted = enlist(draft, roster=roster, faction="commons", region="mere", need=1, by=umpire)
    return {
        ("drafts", "pk"): draft.pk,
        ("drafts", "draft"): draft.pk,
        ("regions", "region"): "mere",
        ("roads", "road"): "mill",
        ("forces", "force"): enlisted.force,
        ("seats", "chair"): Seat.objects.get(campaign=running, member=member).pk,
    }
