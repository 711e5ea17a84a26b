"""British English with the 24-hour clock, as on every club's notice of a night: "19:00", not "7 p.m."."""

from __future__ import annotations

TIME_FORMAT = "H:i"
DATETIME_FORMAT = "j M Y, H:i"
SHORT_DATETIME_FORMAT = "d/m/Y H:i"
