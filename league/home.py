"""The front page: my next game, log a result, the table, the latest reports."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.generic import TemplateView
from rest_framework.permissions import AllowAny
from rest_framework.response import Response
from rest_framework.views import APIView


class Home(TemplateView):
    template_name = "home.html"


class ApiRoot(APIView):
    """Where everything is."""

    permission_classes = [AllowAny]

    def get(self, request: HttpRequest) -> Response:
        return Response({})


def alive(request: HttpRequest) -> HttpResponse:
    return HttpResponse("alive", content_type="text/plain; charset=utf-8")
