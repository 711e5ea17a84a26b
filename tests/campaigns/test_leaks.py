"""Whoever opens every page and every address of the API learns nothing hidden."""

from __future__ import annotations

import re

import pytest

from league.campaigns.models import Secret
from league.engines import war
from tests.campaigns.play import begin
from tests.rights.walk import addresses

PARAMETER = re.compile(r"<\w+:(\w+)>")
# What is new on every page whatever it says: tokens against forged requests, names of submissions,
# the hour of an empty feed and of a printed page, and what static files are called.
FLEETING = re.compile(
    r'name="csrfmiddlewaretoken" value="\w+"'
    r"|[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}"
    r"|<updated>[^<]*</updated>"
    r'|<p class="print-only">[^<]*</p>'
    r"|/static/[^\"'\s>]+"
)
VALUES = {"place": 0, "turn": 1, "battle": "1:sedge", "fact": 1, "story": 1, "number": 1, "key": "sedge"}


@pytest.fixture
def played(club, organiser, umpire, member, opponent, quartermaster):
    club.is_public = True
    club.save()
    played = begin(club, umpire=umpire, commons=member, wardens=opponent)
    played.campaign.is_public = True
    played.campaign.save()
    return played


def paths(played):
    """Every address that answers GET and speaks of a campaign, a club's book, games or rosters."""
    found = []
    for address in addresses():
        if "GET" not in address.methods or ("clubs", "club") not in address.segments:
            continue
        values = {"club": played.campaign.club.slug}
        for before, parameter in address.segments[1:]:
            values[parameter] = played.campaign.pk if before in ("campaigns", "drafts") else VALUES.get(parameter, 1)
        found.append("/" + PARAMETER.sub(lambda match, values=values: str(values[match[1]]), address.route))
    return found


def read_everything(browse, who, played):
    client, found = browse(who), {}
    for path in paths(played):
        answer = client.get(path)
        body = b"".join(answer.streaming_content) if answer.streaming else answer.content
        found[path] = (answer.status_code, FLEETING.sub("", body.decode("utf-8", "replace")))
    return found


def difference(path, one, other):
    lines = zip(one[1].splitlines(), other[1].splitlines(), strict=False)
    return path, one[0], other[0], next(((a, b) for a, b in lines if a != b), None)


@pytest.mark.parametrize("role", ["opponent", "organiser", "quartermaster", "visitor"])
def test_which_orders_were_given_changes_nothing_for_anybody_else(role, request, browse, played):
    """Two quite different sets of orders, and every page reads the same, letter by letter."""
    who = None if role == "visitor" else request.getfixturevalue(role)
    played.orders("commons", war.Move(force="pikes", roads=("dyke",)))
    first = read_everything(browse, who, played)
    played.orders("commons", war.DigIn(force="sappers"), importance=("sappers",))
    second = read_everything(browse, who, played)
    assert len(first) > 100
    assert [difference(path, first[path], second[path]) for path in first if first[path] != second[path]][:3] == []


@pytest.mark.parametrize("role", ["opponent", "umpire", "visitor"])
def test_the_seed_of_the_turn_is_nowhere_before_the_turn_is_over(role, request, browse, played):
    who = None if role == "visitor" else request.getfixturevalue(role)
    played.meet()
    kept = Secret.objects.get(turn=1).seed
    assert [path for path, (_code, text) in read_everything(browse, who, played).items() if kept in text] == []


def test_a_force_out_of_sight_is_on_no_page_of_the_war(browse, played, opponent, quartermaster):
    played.quiet_turn()
    for who, hidden in ((opponent, "The sappers"), (quartermaster, "The guard")):
        told = read_everything(browse, who, played)
        war_pages = {path: text for path, (_code, text) in told.items() if "/campaigns/" in path}
        assert len(war_pages) > 20
        assert [path for path, text in war_pages.items() if hidden in text] == []
