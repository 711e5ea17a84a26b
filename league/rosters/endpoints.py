"""Rosters, their units and their strength over the API."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import mixins, status
from rest_framework.response import Response

from league.clubs.endpoints.rows import ClubRows, body_of, changes_of
from league.engines.roster_text import parse_roster
from league.errors import Violation
from league.rosters.filters import RosterFilter
from league.rosters.models import Roster, Unit
from league.rosters.permissions import can_retire_roster
from league.rosters.queries import RosterSheet, UnitLine, roster_sheet, rosters_of
from league.rosters.queries.previews import preview_of
from league.rosters.serializers import (
    AddUnitSerializer,
    NewRosterSerializer,
    RosterChangeSerializer,
    RosterCopySerializer,
    RosterSerializer,
    RosterSheetSerializer,
    RosterStrengthSerializer,
    UnitSerializer,
    UnitsReadSerializer,
    UnitsTextSerializer,
    facts_in,
)
from league.rosters.services.facts import facts_of, parsed_facts
from league.rosters.services.rosters import (
    RosterRefused,
    bring_back_roster,
    change_roster,
    copy_roster,
    create_roster,
    import_units,
    retire_roster,
)
from league.rosters.services.units import add_unit, change_unit, remove_unit
from league.rulesets.queries import current_edition, rules_of

__all__ = ["Rosters", "Units"]


class RosterRows(ClubRows):
    """The club's rosters."""

    def rows(self) -> QuerySet[Roster]:
        return (
            rosters_of(self.club, self.request.user).select_related("club", "owner", "ruleset").order_by("name", "pk")
        )

    def own_row(self, pk: int) -> Roster:
        """A roster this member may write; whether it is retired is the service's to say."""
        row: Roster = self.row(pk)
        self.require(can_retire_roster(self.member, row))
        return row

    def sheet(self, pk: int) -> RosterSheet:
        return roster_sheet(self.row(pk))

    def shown(self, pk: int, code: int = status.HTTP_200_OK) -> Response:
        return Response(RosterSheetSerializer(self.sheet(pk)).data, status=code)


@extend_schema_view(list=extend_schema(summary="List the rosters"))
class Rosters(mixins.ListModelMixin, RosterRows):
    queryset = Roster.objects.none()
    serializer_class = RosterSerializer
    filterset_class = RosterFilter

    @extend_schema(summary="Read a roster with its units as they stand today", responses=RosterSheetSerializer)
    def retrieve(self, request: Any, club: str, pk: int) -> Response:
        return self.shown(pk)

    @extend_schema(summary="Write a roster", request=NewRosterSerializer, responses={201: RosterSheetSerializer})
    def create(self, request: Any, club: str) -> Response:
        """For yourself; organisers also for others. It may break limits: then `is_legal` is false."""
        facts = body_of(NewRosterSerializer, request, club=self.club)
        facts["units"] = [facts_in(each) for each in facts["units"]]
        roster = create_roster(self.club, **{"owner": self.member, **facts}, by=self.member)
        return self.shown(roster.pk, status.HTTP_201_CREATED)

    @extend_schema(summary="Describe a roster anew", request=RosterChangeSerializer, responses=RosterSheetSerializer)
    def partial_update(self, request: Any, club: str, pk: int) -> Response:
        """For its owner and organisers. Name the `version` you read."""
        roster = self.own_row(pk)
        current = {field: getattr(roster, field) for field in ("name", "faction", "points_limit", "note", "version")}
        change_roster(roster, **changes_of(RosterChangeSerializer, request, current), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Copy a roster", request=RosterCopySerializer, responses={201: RosterSheetSerializer})
    def copy(self, request: Any, club: str, pk: int) -> Response:
        """The units at full establishment, with no battles behind them."""
        copied = copy_roster(self.row(pk), **body_of(RosterCopySerializer, request, club=self.club), by=self.member)
        return self.shown(copied.pk, status.HTTP_201_CREATED)

    @extend_schema(summary="Add units from text", request=UnitsTextSerializer, responses=UnitsReadSerializer)
    def import_text(self, request: Any, club: str, pk: int) -> Response:
        """Unless `dry_run` is false nothing is written. A line that cannot be read keeps everything from being so."""
        roster = self.own_row(pk)
        body = body_of(UnitsTextSerializer, request)
        rules = rules_of(current_edition(roster.ruleset))
        parsed = parse_roster(body["text"], rules)
        preview = preview_of(parsed, rules)
        written = not body["dry_run"]
        if written and preview.bad_lines:
            raise RosterRefused(
                Violation(f"{line.line_number}: {problem}", "text", "bad_line")
                for line in preview.bad_lines
                for problem in line.problems
            )
        if written:
            units = [parsed_facts(unit) for unit in parsed.units]
            roster = import_units(roster, units=units, version=body["version"], by=self.member)
        answer = {
            "written": written,
            "version": roster.version,
            "units": preview.units,
            "bad_lines": preview.bad_lines,
        }
        return Response(UnitsReadSerializer(answer).data)

    @extend_schema(summary="Retire a roster", request=None, responses=RosterSheetSerializer)
    def retire(self, request: Any, club: str, pk: int) -> Response:
        """For its owner and organisers. Its record stays."""
        retire_roster(self.row(pk), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Bring a retired roster back", request=None, responses=RosterSheetSerializer)
    def bring_back(self, request: Any, club: str, pk: int) -> Response:
        """For its owner and organisers."""
        bring_back_roster(self.row(pk), by=self.member)
        return self.shown(pk)

    @extend_schema(summary="Why do the units stand where they do?", responses=RosterStrengthSerializer)
    def strength(self, request: Any, club: str, pk: int) -> Response:
        """Battle by battle, with the dice and the tables that decided."""
        return Response(RosterStrengthSerializer(self.sheet(pk)).data)


class Units(RosterRows):
    """The units of one roster. Every change names the roster's version and raises it."""

    queryset = Roster.objects.none()
    serializer_class = UnitSerializer
    filter_backends = ()
    pagination_class = None

    def unit(self) -> Unit:
        rows = Unit.objects.filter(roster=self.row(self.kwargs["roster"]), removed_at=None)
        return get_object_or_404(rows.select_related("roster__club"), pk=self.kwargs["pk"])

    def line(self, pk: int) -> UnitLine:
        sheet = self.sheet(self.kwargs["roster"])
        return next(line for line in sheet.units if line.unit.pk == pk)

    @extend_schema(summary="List a roster's units as they stand today", responses=UnitSerializer(many=True))
    def list(self, request: Any, club: str, roster: int) -> Response:
        return Response(UnitSerializer(self.sheet(roster).units, many=True).data)

    @extend_schema(summary="Add a unit", request=AddUnitSerializer, responses={201: UnitSerializer})
    def create(self, request: Any, club: str, roster: int) -> Response:
        """For its owner and organisers."""
        row = self.own_row(roster)
        body = body_of(AddUnitSerializer, request)
        unit = add_unit(row, facts=facts_in(body), version=body["version"], by=self.member)
        return Response(UnitSerializer(self.line(unit.pk)).data, status=status.HTTP_201_CREATED)

    @extend_schema(summary="Read a unit as it stands today", responses=UnitSerializer)
    def retrieve(self, request: Any, club: str, roster: int, pk: int) -> Response:
        return Response(UnitSerializer(self.line(self.unit().pk)).data)

    @extend_schema(summary="Write a unit down anew", request=AddUnitSerializer, responses=UnitSerializer)
    def partial_update(self, request: Any, club: str, roster: int, pk: int) -> Response:
        """For its owner and organisers. Battles it has fought stay what they were."""
        self.own_row(roster)
        unit = self.unit()
        facts = facts_of(unit)
        current = {
            "version": unit.roster.version,
            **{name: getattr(facts, name) for name in ("name", "unit_class", "figures", "points", "quality", "gear")},
        }
        body = changes_of(AddUnitSerializer, request, current)
        change_unit(unit, facts=facts_in(body), version=body["version"], by=self.member)
        return Response(UnitSerializer(self.line(pk)).data)

    @extend_schema(summary="Take a unit off the roster", request=None, responses={204: None})
    def destroy(self, request: Any, club: str, roster: int, pk: int) -> Response:
        """For its owner and organisers. Its record stays."""
        remove_unit(self.unit(), by=self.member)
        return Response(status=status.HTTP_204_NO_CONTENT)
