"""Making a sent file into a picture that is safe to keep: pixels only, bounded, nothing of where or with what it was taken."""

from __future__ import annotations

import hashlib
import io
import struct
import warnings
from dataclasses import dataclass
from typing import Any, BinaryIO

from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _
from PIL import Image, ImageOps, UnidentifiedImageError

from league.errors import Refused

__all__ = ["BYTES_MOST", "Picture", "PictureRefused", "digest_of_file", "make_picture", "picture_in"]

BYTES_MOST = 10 * 1024 * 1024
PIXELS_MOST = 40_000_000
EDGE_MOST = 1600
FORMATS = ("JPEG", "PNG", "WEBP")
STILL_ONLY = {"PNG", "WEBP"}
HEAD = 512

# A picture that says it is larger than this is refused by its header, before a pixel is unpacked. Pillow itself only
# warns up to twice the limit; here the warning is an error. Both are settings of the process, safe between threads.
Image.MAX_IMAGE_PIXELS = PIXELS_MOST
warnings.filterwarnings("error", category=Image.DecompressionBombWarning)


class PictureRefused(Refused):
    """The file is no picture that can be kept."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Picture:
    """A JPEG without any metadata; sizes in pixels."""

    data: bytes
    width: int
    height: int


def picture_in(file: UploadedFile[bytes]) -> Picture:
    """A sent file as a picture, written anew; raises PictureRefused as `make_picture` does."""
    file.seek(0)
    stream: Any = file  # Pillow reads and seeks in it
    return make_picture(stream, size=file.size or 0)


def digest_of_file(file: UploadedFile[bytes]) -> str:
    """What a sent file holds, as a digest; empty for one that is too large, whose size is looked at before it is read."""
    if (file.size or 0) > BYTES_MOST:
        return ""
    digest = hashlib.sha256()
    for chunk in file.chunks():
        digest.update(chunk)
    return digest.hexdigest()


def make_picture(file: BinaryIO, *, size: int) -> Picture:
    """Read `file` of `size` bytes and write it anew from its pixels, turned the right way up.

    Raises:
        PictureRefused: too many bytes or pixels, not a JPEG, PNG or WebP, moving, or damaged.
    """
    if size > BYTES_MOST:
        raise PictureRefused(_("The picture is larger than 10 MB. Choose a smaller one."))
    if size == 0:
        raise PictureRefused(_("The file is empty."))
    head = file.read(HEAD)
    file.seek(0)
    try:
        with Image.open(file, formats=FORMATS) as image:
            return written_anew(image)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
        raise PictureRefused(too_many_pixels()) from bomb
    except UnidentifiedImageError as unknown:
        raise PictureRefused(words_for(head)) from unknown
    except (OSError, SyntaxError, ValueError, EOFError, struct.error) as damage:
        raise PictureRefused(_("The picture is damaged and cannot be read to its end.")) from damage


def written_anew(image: Image.Image) -> Picture:
    if image.width * image.height > PIXELS_MOST:
        raise PictureRefused(too_many_pixels())
    if image.format in STILL_ONLY and getattr(image, "is_animated", False):
        raise PictureRefused(_("Moving pictures cannot be kept. Choose a still one."))
    if image.format == "JPEG":
        image.draft("RGB", (EDGE_MOST, EDGE_MOST))
    upright = ImageOps.exif_transpose(image)
    upright.thumbnail((EDGE_MOST, EDGE_MOST), Image.Resampling.LANCZOS)
    layered = upright.convert("RGBA")
    # A new canvas, because saving a changed picture would carry its comment along.
    canvas = Image.new("RGB", layered.size, "white")
    canvas.paste(layered, mask=layered.getchannel("A"))
    out = io.BytesIO()
    canvas.save(out, "JPEG", quality=85, optimize=True)
    return Picture(data=out.getvalue(), width=canvas.width, height=canvas.height)


def too_many_pixels() -> str:
    return _("The picture has more than 40 million pixels. Choose a smaller one.")


def words_for(head: bytes) -> str:
    """Why a file that is none of the three kinds is not taken, in words for whoever chose it."""
    kind = ""
    if head.startswith(b"GIF8"):
        kind = "GIF"
    elif head[4:8] == b"ftyp":
        kind = "HEIC"
    elif head.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        kind = "SVG"
    if kind:
        return _("%(kind)s pictures cannot be kept. Save it as JPEG, PNG or WebP and choose that file.") % {
            "kind": kind
        }
    return _("This file is not a JPEG, PNG or WebP picture.")
