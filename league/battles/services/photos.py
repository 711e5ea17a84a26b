"""Pictures of a game: added by those who were there, taken away when somebody in them says so."""

from __future__ import annotations

import secrets
from uuid import UUID

from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from league.battles import permissions
from league.battles.models import Game, Photo
from league.battles.services.acts import log_act
from league.battles.services.games import lock_game
from league.clubs.models import Member
from league.clubs.services.pictures import PictureRefused, digest_of_file, picture_in
from league.clubs.services.submissions import digest_of, earlier, write_once
from league.errors import NotYoursToDo

__all__ = ["PHOTOS_MOST", "add_photo", "remove_photo"]

PHOTOS_MOST = 12
CAPTION_MOST = 200


@transaction.atomic
def add_photo(game: Game, *, file: UploadedFile[bytes], caption: str = "", submission: UUID, by: Member) -> Photo:
    """Keep a picture of the game, re-encoded; the file's own name and data about the camera are dropped.

    Raises:
        NotYoursToDo: neither a player nor an organiser or umpire.
        PictureRefused: the file cannot be kept, or the game has its dozen already.
        SubmissionReused: the submission's name came earlier with another picture.
    """
    game = lock_game(game)
    if not permissions.can_add_photo(by, game):
        raise NotYoursToDo(_("Only the game's players, organisers and umpires add photos."))
    digest = digest_of({"game": game.pk, "by": by.pk, "file": digest_of_file(file), "caption": caption})
    if again := earlier(Photo, submission, digest):
        return again
    if len(caption) > CAPTION_MOST:
        raise PictureRefused(_("Keep the caption under %(most)s characters.") % {"most": CAPTION_MOST})
    if Photo.objects.filter(game=game, removed_at=None).count() >= PHOTOS_MOST:
        raise PictureRefused(_("A game keeps up to %(most)s photos. Take one away first.") % {"most": PHOTOS_MOST})
    picture = picture_in(file)
    now = timezone.now()
    storage = Photo.file.field.storage
    name = storage.save(f"photos/{secrets.token_hex(16)}.jpg", ContentFile(picture.data))
    try:
        photo, _is_new = write_once(
            Photo,
            submission,
            digest,
            game=game,
            file=name,
            width=picture.width,
            height=picture.height,
            caption=caption,
            by=by,
            at=now,
        )
        log_act(game.club, "photo_added", game, by=by, at=now, photo=photo.pk)
    except BaseException:
        storage.delete(name)
        raise
    return photo


@transaction.atomic
def remove_photo(photo: Photo, *, by: Member) -> None:
    """Take a photo away for good: the row says who and when, the file is deleted. Twice is once.

    Raises:
        NotYoursToDo: neither who added it, nor a player, nor an organiser.
    """
    game = photo.game
    if not permissions.can_remove_photo(by, game, photo):
        raise NotYoursToDo(_("Only whoever added it, the game's players and organisers take a photo away."))
    now = timezone.now()
    if Photo.objects.filter(pk=photo.pk, removed_at=None).update(removed_at=now):
        log_act(game.club, "photo_removed", game, by=by, at=now, photo=photo.pk)
        storage, name = photo.file.storage, str(photo.file.name)
        transaction.on_commit(lambda: storage.delete(name))
