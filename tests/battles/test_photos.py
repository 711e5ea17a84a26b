"""Photos: what is kept of a file, what is refused, who gets to see it."""

from __future__ import annotations

import io
import struct
import zlib
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image, PngImagePlugin

from league.battles.models import Photo
from league.battles.services.photos import PHOTOS_MOST, add_photo, remove_photo
from league.clubs.services.pictures import BYTES_MOST, PictureRefused
from league.errors import NotYoursToDo

GPS, GPS_LATITUDE_REF, GPS_LATITUDE = 0x8825, 1, 2
ORIENTATION, MAKE = 0x0112, 0x010F


def picture(kind="JPEG", size=(40, 20), colour=(200, 30, 30), **saving):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, kind, **saving)
    return out.getvalue()


def telling_picture():
    """A JPEG that says where it was taken and with what, lying on its side, with a comment."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    exif[MAKE] = "Field camera"
    exif.get_ifd(GPS).update({GPS_LATITUDE_REF: "N", GPS_LATITUDE: (51.0, 30.0, 0.0)})
    return picture(exif=exif, comment=b"the hall in Weir Street")


def huge_png(width, height):
    """A PNG that claims to be so large; the pixels behind the header do not matter."""

    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + chunk(b"IEND", b"")
    )


@pytest.fixture
def send(game, member):
    """Add a file with these contents to the game as Brannoc."""

    def sent(data, *, name="photo.jpg", by=member, submission=None, **facts):
        file = SimpleUploadedFile(name, data)
        return add_photo(game, file=file, submission=submission or uuid4(), by=by, **facts)

    return sent


def kept(photo):
    with photo.file.open("rb") as file:
        image = Image.open(io.BytesIO(file.read()))
        image.load()
    return image


def test_nothing_is_kept_of_where_and_with_what_it_was_taken(send):
    photo = send(telling_picture())
    image = kept(photo)
    assert dict(image.getexif()) == {}
    assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    with photo.file.open("rb") as file:
        data = file.read()
    assert not any(word in data for word in (b"Exif", b"Field camera", b"Weir Street"))


def test_a_picture_that_lay_on_its_side_stands_up(send):
    photo = send(telling_picture())
    assert (kept(photo).size, photo.width, photo.height) == ((20, 40), 20, 40)


def test_the_texts_of_a_png_are_gone_and_it_is_a_jpeg(send):
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Location", "Weir Street")
    image = kept(send(picture("PNG", pnginfo=notes)))
    assert image.format == "JPEG"
    assert "Location" not in image.info


def test_a_webp_is_taken(send):
    assert kept(send(picture("WEBP"))).size == (40, 20)


def test_what_was_see_through_becomes_white(send):
    out = io.BytesIO()
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(out, "PNG")
    assert kept(send(out.getvalue())).getpixel((4, 4)) == (255, 255, 255)


def test_a_large_picture_is_made_smaller(send):
    photo = send(picture(size=(3200, 800)))
    assert (photo.width, photo.height) == (1600, 400)


def test_the_file_is_named_by_the_site(send):
    photo = send(picture(), name="../../hall key code 4711.jpg")
    folder, name = photo.file.name.split("/")
    assert (folder, len(name), name.endswith(".jpg")) == ("photos", 36, True)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (picture("GIF"), "GIF pictures cannot be kept"),
        (b"<?xml version='1.0'?><svg xmlns='http://www.w3.org/2000/svg'/>", "SVG pictures cannot be kept"),
        (b"\0\0\0\x18ftypheic" + b"\0" * 50, "HEIC pictures cannot be kept"),
        (b"%PDF-1.7 not a picture", "not a JPEG, PNG or WebP picture"),
        (picture(size=(400, 400))[:900], "damaged"),
        (picture("PNG", size=(400, 400))[:400], "damaged"),
        (huge_png(8000, 6000), "more than 40 million pixels"),
        (huge_png(60000, 60000), "more than 40 million pixels"),
        (b"", "empty"),
    ],
    ids=["gif", "svg", "heic", "pdf", "truncated jpeg", "truncated png", "48 megapixels", "bomb", "empty"],
)
def test_what_cannot_be_kept_is_refused_in_plain_words(data, words, send):
    with pytest.raises(PictureRefused, match=words):
        send(data)
    assert not Photo.objects.exists()


def test_a_moving_picture_is_refused(send):
    out = io.BytesIO()
    frames = [Image.new("RGB", (8, 8), colour) for colour in ("red", "blue")]
    frames[0].save(out, "WEBP", save_all=True, append_images=frames[1:])
    with pytest.raises(PictureRefused, match="Moving pictures"):
        send(out.getvalue())


def test_a_file_that_is_too_large_is_refused_before_it_is_read(game, member):
    class Unreadable(SimpleUploadedFile):
        def chunks(self, chunk_size=None):
            raise AssertionError("the file was read")

        read = chunks

    file = Unreadable("photo.jpg", b"")
    file.size = BYTES_MOST + 1
    with pytest.raises(PictureRefused, match="larger than 10 MB"):
        add_photo(game, file=file, submission=uuid4(), by=member)


def test_a_game_keeps_a_dozen(send):
    for _number in range(PHOTOS_MOST):
        send(picture())
    with pytest.raises(PictureRefused, match="up to 12 photos"):
        send(picture())


def test_the_same_photo_sent_twice_is_kept_once(send):
    submission = uuid4()
    assert send(picture(), submission=submission) == send(picture(), submission=submission)
    assert Photo.objects.count() == 1


def test_who_was_not_there_adds_no_photo(send, quartermaster):
    with pytest.raises(NotYoursToDo):
        send(picture(), by=quartermaster)


def test_a_photo_taken_away_is_deleted_from_the_disk(send, opponent, django_capture_on_commit_callbacks):
    photo = send(picture())
    with django_capture_on_commit_callbacks(execute=True):
        remove_photo(photo, by=opponent)
    assert not photo.file.storage.exists(photo.file.name)


def test_who_has_nothing_to_do_with_it_takes_no_photo_away(send, umpire):
    with pytest.raises(NotYoursToDo):
        remove_photo(send(picture()), by=umpire)


@pytest.mark.parametrize(("who", "code"), [("member", 200), ("quartermaster", 200), ("outsider", 404), (None, 302)])
def test_a_photo_is_seen_by_the_club_only(who, code, request, club, send, browse):
    address = reverse("photo", kwargs={"club": club.slug, "pk": send(picture()).pk})
    assert browse(request.getfixturevalue(who) if who else None).get(address).status_code == code


def test_a_photo_comes_as_nothing_but_a_picture(club, game, member, send, browse):
    photo = send(picture())
    answer = browse(member).get(reverse("photo", kwargs={"club": club.slug, "pk": photo.pk}))
    expected = {
        "Content-Type": "image/jpeg",
        "Content-Disposition": f'inline; filename="game-{game.pk}-photo-{photo.pk}.jpg"',
        "Content-Security-Policy": "sandbox; default-src 'none'",
        "X-Content-Type-Options": "nosniff",
        "Cache-Control": "private, max-age=86400",
    }
    assert {name: answer[name] for name in expected} == expected
    b"".join(answer.streaming_content)


def test_a_photo_taken_away_is_not_found(club, member, send, browse):
    photo = send(picture())
    remove_photo(photo, by=member)
    assert browse(member).get(reverse("photo", kwargs={"club": club.slug, "pk": photo.pk})).status_code == 404


def test_a_photo_is_added_on_the_page_that_warns_of_minors(club, game, member, browse):
    address = reverse("photo-new", kwargs={"club": club.slug, "pk": game.pk})
    assert "Show no faces of people under 18" in browse(member).get(address).content.decode()
    file = SimpleUploadedFile("photo.jpg", picture(), content_type="image/jpeg")
    browse(member).post(address, {"submission": str(uuid4()), "file": file, "caption": "The last stand"})
    assert Photo.objects.get().caption == "The last stand"


def test_a_refused_photo_says_why_beside_its_field(club, game, member, browse):
    address = reverse("photo-new", kwargs={"club": club.slug, "pk": game.pk})
    answer = browse(member).post(
        address, {"submission": str(uuid4()), "file": SimpleUploadedFile("photo.gif", picture("GIF"))}
    )
    assert answer.status_code == 422
    assert answer.context["form"].errors["file"] == [
        "GIF pictures cannot be kept. Save it as JPEG, PNG or WebP and choose that file."
    ]


def test_a_photo_is_sent_over_the_api_once(club, game, member, call):
    address = f"/api/v1/clubs/{club.slug}/games/{game.pk}/photos/"
    submission = str(uuid4())
    codes = [
        call(member)
        .post(address, {"submission": submission, "file": SimpleUploadedFile("p.jpg", picture())}, format="multipart")
        .status_code
        for _time in range(2)
    ]
    assert codes == [201, 200]


@pytest.mark.parametrize(
    ("who", "code"), [("member", 204), ("opponent", 204), ("organiser", 204), ("umpire", 403), ("outsider", 404)]
)
def test_a_photo_is_taken_away_over_the_api_by_whom_it_concerns(who, code, request, club, send, call):
    address = f"/api/v1/clubs/{club.slug}/photos/{send(picture()).pk}/"
    assert call(request.getfixturevalue(who)).delete(address).status_code == code


def test_a_photo_whose_file_was_lost_is_not_found(club, member, send, browse):
    photo = send(picture())
    photo.file.storage.delete(photo.file.name)
    assert browse(member).get(reverse("photo", kwargs={"club": club.slug, "pk": photo.pk})).status_code == 404
