"""Stories that members tell of a turn."""

from __future__ import annotations

from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.campaigns.models import Campaign, Fact, Story
from league.campaigns.permissions import can_hide, can_tell
from league.campaigns.services.acts import log_act
from league.clubs.models import Member
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.errors import NotYoursToDo, Refused, Violation

__all__ = ["StoryRefused", "hide_story", "tell_story"]

TITLE_LONGEST, TEXT_LONGEST = 120, 8_000


class StoryRefused(Refused):
    """The story cannot stand in the chronicle as it is."""


@transaction.atomic
def tell_story(campaign: Campaign, *, turn: int, title: str, text: str, submission: UUID, by: Member) -> Story:
    """Put a story beside a turn that is over: before that, telling would give orders away.

    Raises:
        NotYoursToDo: not a member of the club.
        StoryRefused: with everything that is wrong.
        SubmissionReused
    """
    title, text = title.strip(), text.strip()
    digest = digest_of({"campaign": campaign.pk, "by": by.pk, "turn": turn, "title": title, "text": text})
    if again := earlier(Story, submission, digest):
        return again
    if not can_tell(by, campaign):
        raise NotYoursToDo(_("Only members of the club tell stories of its campaigns."))
    if faults := faults_of_story(campaign, turn, title, text):
        raise StoryRefused(faults)
    now = timezone.now()
    story, is_new = write_once(
        Story, submission, digest, campaign=campaign, turn=turn, title=title, text=text, by=by, at=now
    )
    if is_new:
        log_act(campaign.club, "story_told", story, by=by, at=now, turn=turn)
    return story


def faults_of_story(campaign: Campaign, turn: int, title: str, text: str) -> list[Violation]:
    wrong = []
    if not Fact.objects.filter(campaign=campaign, kind=Fact.Kind.CLOSED, turn=turn).exists():
        wrong.append(Violation(_("Stories are told of turns that are over."), "turn", "not_over"))
    if not title:
        wrong.append(Violation(_("Give the story a title."), "title", "missing"))
    if not text:
        wrong.append(Violation(_("Write the story."), "text", "missing"))
    for field, words, most in (("title", title, TITLE_LONGEST), ("text", text, TEXT_LONGEST)):
        if len(words) > most:
            wrong.append(Violation(_("Keep this under %(most)s characters.") % {"most": most}, field, "long"))
    return wrong


@transaction.atomic
def hide_story(story: Story, *, by: Member) -> Story:
    """Take a story off the chronicle; it stays on file. Hiding twice is hiding once.

    Raises:
        NotYoursToDo: neither who told it, nor an organiser or umpire.
    """
    if not can_hide(by, story):
        raise NotYoursToDo(_("A story is hidden by whoever told it, by organisers and by umpires."))
    now = timezone.now()
    if Story.objects.filter(pk=story.pk, hidden_at=None).update(hidden_at=now, hidden_by=by):
        log_act(story.campaign.club, "story_hidden", story, by=by, at=now, turn=story.turn)
    story.refresh_from_db()
    return story
