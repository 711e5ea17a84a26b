"""A picture of a holding: one, re-encoded; a new one takes the place of the old."""

from __future__ import annotations

import secrets

from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction

from league.clubs.models import Member
from league.clubs.services.pictures import picture_in
from league.stores.models import Holding
from league.stores.services.acts import log_holding
from league.stores.services.holdings import lock_own

__all__ = ["photograph_holding", "remove_holding_photo"]


@transaction.atomic
def photograph_holding(holding: Holding, *, file: UploadedFile[bytes], by: Member) -> Holding:
    """Keep a picture of the holding; the same one once more takes its own place.

    Raises:
        NotYoursToDo: neither the owner nor, for the club's and guests' kit, who keeps it.
        PictureRefused: the file is no picture that can be kept.
    """
    holding = lock_own(holding, by)
    picture = picture_in(file)
    storage, old = holding.photo.storage, str(holding.photo.name or "")
    name = storage.save(f"kit/{secrets.token_hex(16)}.jpg", ContentFile(picture.data))
    try:
        holding.photo, holding.photo_width, holding.photo_height = name, picture.width, picture.height
        holding.save(update_fields=["photo", "photo_width", "photo_height"])
        log_holding(holding, "holding_photographed", by=by)
    except BaseException:
        storage.delete(name)
        raise
    if old:
        transaction.on_commit(lambda: storage.delete(old))
    return holding


@transaction.atomic
def remove_holding_photo(holding: Holding, *, by: Member) -> Holding:
    """Take the picture away for good; twice is once. Raises NotYoursToDo as `photograph_holding` does."""
    holding = lock_own(holding, by)
    storage, old = holding.photo.storage, str(holding.photo.name or "")
    if old:
        holding.photo, holding.photo_width, holding.photo_height = "", None, None
        holding.save(update_fields=["photo", "photo_width", "photo_height"])
        log_holding(holding, "holding_photo_removed", by=by)
        transaction.on_commit(lambda: storage.delete(old))
    return holding
