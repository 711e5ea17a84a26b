"""Lots that can be drawn again: whoever knows the seed can repeat the draw, and the order of input plays no part."""

from __future__ import annotations

from hashlib import blake2b


def lot(seed: str, *parts: str) -> int:
    """A number of 64 bits out of the seed and what the lot is for."""
    told = "\x1f".join((seed, *parts)).encode()
    return int.from_bytes(blake2b(told, digest_size=8).digest(), "big")
