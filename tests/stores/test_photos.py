"""A picture of a holding."""

from __future__ import annotations

import io

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from league.clubs.services.pictures import PictureRefused
from league.errors import NotYoursToDo
from league.stores.services.photos import photograph_holding, remove_holding_photo

pytestmark = pytest.mark.django_db


def picture(colour="tan", size=(40, 30)):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "PNG")
    return SimpleUploadedFile("box.png", out.getvalue(), content_type="image/png")


def test_it_is_kept_as_a_jpeg_under_a_name_of_ours(red, member):
    kept = photograph_holding(red, file=picture(size=(3200, 800)), by=member)
    assert kept.photo.name.startswith("kit/") and kept.photo.name.endswith(".jpg")
    assert (kept.photo_width, kept.photo_height) == (1600, 400)


def test_a_new_one_takes_the_place_of_the_old(red, member, django_capture_on_commit_callbacks):
    first = photograph_holding(red, file=picture(), by=member).photo.name
    with django_capture_on_commit_callbacks(execute=True):
        second = photograph_holding(red, file=picture("navy"), by=member).photo.name
    assert (default_storage.exists(first), default_storage.exists(second)) == (False, True)


def test_taken_away_it_is_gone_and_twice_is_once(red, member, django_capture_on_commit_callbacks):
    name = photograph_holding(red, file=picture(), by=member).photo.name
    with django_capture_on_commit_callbacks(execute=True):
        remove_holding_photo(red, by=member)
        assert not remove_holding_photo(red, by=member).photo
    assert not default_storage.exists(name)


def test_what_is_no_picture_is_refused(red, member):
    with pytest.raises(PictureRefused):
        photograph_holding(red, file=SimpleUploadedFile("box.png", b"no picture"), by=member)
    red.refresh_from_db()
    assert not red.photo


def test_only_the_owner_adds_one(red, organiser):
    with pytest.raises(NotYoursToDo):
        photograph_holding(red, file=picture(), by=organiser)
