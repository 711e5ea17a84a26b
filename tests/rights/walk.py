"""Every address of the site, read from the URL configuration itself, so that none can be forgotten."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from django.urls import URLPattern, URLResolver, get_resolver

# Addresses of installed packages, which keep their own rights and their own tests.
FOREIGN = ("account/", "^static")


SEGMENT = re.compile(r"([\w-]*)/<\w+:(\w+)>")


@dataclass(frozen=True)
class Address:
    name: str
    route: str
    segments: tuple[tuple[str, str], ...]  # (word before it, parameter): ("rosters", "pk") of rosters/<int:pk>/
    methods: frozenset[str]

    @property
    def is_api(self) -> bool:
        return self.route.startswith("api/")


def addresses() -> list[Address]:
    return sorted(walk(get_resolver().url_patterns, ""), key=lambda each: each.route)


def walk(patterns: list[URLPattern | URLResolver], prefix: str) -> Iterator[Address]:
    for pattern in patterns:
        route = prefix + str(pattern.pattern)
        if isinstance(pattern, URLResolver):
            if not (route.startswith(FOREIGN) and is_foreign(pattern)):
                yield from walk(pattern.url_patterns, route)
        else:
            yield Address(
                name=pattern.name or "",
                route=route,
                segments=tuple(SEGMENT.findall(route)),
                methods=methods_of(pattern.callback),
            )


def is_foreign(resolver: URLResolver) -> bool:
    return getattr(resolver.urlconf_name, "__name__", "").startswith("allauth")


def methods_of(callback: object) -> frozenset[str]:
    """The HTTP methods an address answers, without OPTIONS and HEAD."""
    actions = getattr(callback, "actions", None)
    if actions:
        return frozenset(method.upper() for method in actions if method not in {"head", "options"})
    view = getattr(callback, "cls", None) or getattr(callback, "view_class", None)
    if view is None:
        return frozenset({"GET"})
    return frozenset(
        name.upper()
        for name in ("get", "post", "put", "patch", "delete")
        if hasattr(view, name) and name in view.http_method_names
    )
