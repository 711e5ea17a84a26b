"""Photos over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.http import FileResponse, Http404
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.parsers import MultiPartParser
from rest_framework.response import Response

from league.battles.models import Game, Photo
from league.battles.queries.pages import photo_to_show
from league.battles.queries.reports import was_sent
from league.battles.serializers.games import PhotoSerializer, PhotoWriteSerializer
from league.battles.services.photos import add_photo, remove_photo
from league.battles.views.photos import photo_response
from league.clubs.endpoints.rows import ClubRows, body_of

__all__ = ["GamePhotos", "Photos"]


@extend_schema_view(list=extend_schema(summary="List the photos of a game"))
class GamePhotos(mixins.ListModelMixin, ClubRows):
    queryset = Photo.objects.none()
    serializer_class = PhotoSerializer
    parser_classes = [MultiPartParser]

    def game(self) -> Game:
        game = Game.objects.filter(club=self.club, pk=self.kwargs["game"]).first()
        if game is None:
            raise Http404
        return game

    def rows(self) -> QuerySet[Photo]:
        return Photo.objects.filter(game=self.game(), removed_at=None).order_by("pk")

    @extend_schema(
        summary="Add a photo to a game",
        request={"multipart/form-data": PhotoWriteSerializer},
        responses={201: PhotoSerializer, 200: PhotoSerializer},
    )
    def create(self, request: Any, club: str, game: int) -> Response:
        """The picture is made smaller and loses every trace of where, when and with what it was taken."""
        row = self.game()
        data = body_of(PhotoWriteSerializer, request)
        again = was_sent(Photo, data["submission"])
        photo = add_photo(row, by=self.member, **data)
        code = status.HTTP_200_OK if again else status.HTTP_201_CREATED
        return Response(self.get_serializer(photo).data, status=code)


class Photos(ClubRows):
    queryset = Photo.objects.none()
    serializer_class = PhotoSerializer

    def photo(self, pk: int) -> Photo:
        photo = photo_to_show(self.request.user, self.club, pk)
        if photo is None:
            raise Http404
        return photo

    @extend_schema(summary="Fetch a photo", responses={(200, "image/jpeg"): OpenApiTypes.BINARY})
    def retrieve(self, request: Any, club: str, pk: int) -> FileResponse:
        return photo_response(self.photo(pk))

    @extend_schema(summary="Take a photo away", request=None, responses={204: None})
    def destroy(self, request: Any, club: str, pk: int) -> Response:
        """For whoever added it, the game's players and organisers. The file is deleted for good."""
        remove_photo(self.photo(pk), by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)
