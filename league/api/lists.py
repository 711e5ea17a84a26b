"""Lists: paged, and narrowed only by what they know."""

from __future__ import annotations

import re
from typing import Any

from django.utils.translation import gettext as _
from django_filters import BooleanFilter, NumberFilter
from django_filters.rest_framework import DjangoFilterBackend
from rest_framework import exceptions
from rest_framework.pagination import PageNumberPagination

__all__ = ["Pages", "StrictFilterBackend"]

LARGEST_NUMBER = 999_999_999
NUMBER = re.compile(r"[1-9]\d{0,8}", re.ASCII)
TRUTHS = {"true", "false"}


class Pages(PageNumberPagination):
    """By number, 50 rows a page unless up to 200 are asked for; a page that is not there answers 404."""

    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = 200
    last_page_strings = ()

    def paginate_queryset(self, queryset: Any, request: Any, view: Any = None) -> Any:
        wrong = {}
        if not is_number(request, self.page_query_param):
            wrong[self.page_query_param] = [_("Pages are numbered from 1.")]
        if not is_number(request, self.page_size_query_param, most=self.max_page_size):
            wrong[self.page_size_query_param] = [_("A page has 1 to %(most)s rows.") % {"most": self.max_page_size}]
        if wrong:
            raise exceptions.ValidationError(wrong)
        return super().paginate_queryset(queryset, request, view)

    def get_schema_operation_parameters(self, view: Any) -> list[dict[str, Any]]:
        parameters: list[dict[str, Any]] = super().get_schema_operation_parameters(view)
        for parameter in parameters:
            parameter["schema"]["minimum"] = 1
            sized = parameter["name"] == self.page_size_query_param
            parameter["schema"]["maximum"] = self.max_page_size if sized else LARGEST_NUMBER
        return parameters


def is_number(request: Any, name: str, *, most: int = LARGEST_NUMBER) -> bool:
    return all(NUMBER.fullmatch(each) and int(each) <= most for each in request.query_params.getlist(name))


class StrictFilterBackend(DjangoFilterBackend):
    """Filters that refuse what they do not understand, instead of quietly answering with everything."""

    def filter_queryset(self, request: Any, queryset: Any, view: Any) -> Any:
        filterset = self.get_filterset_class(view, queryset)
        known = dict(filterset.base_filters) if filterset else {}
        paging = {view.paginator.page_query_param, view.paginator.page_size_query_param} if view.paginator else set()
        asked = request.query_params
        wrong = {name: [_("There is no such filter.")] for name in sorted(set(asked) - set(known) - paging)}
        for name in sorted(set(asked) & set(known)):
            if len(asked.getlist(name)) > 1:
                wrong[name] = [_("Name it once.")]
            elif not asked[name]:
                wrong[name] = [_("Say what to look for, or leave it out.")]
            elif isinstance(known[name], NumberFilter) and not NUMBER.fullmatch(asked[name]):
                wrong[name] = [_("Say which by its number.")]
            elif isinstance(known[name], BooleanFilter) and asked[name] not in TRUTHS:
                wrong[name] = [_("Say true or false.")]
        if wrong:
            raise exceptions.ValidationError(wrong)
        return super().filter_queryset(request, queryset, view)
