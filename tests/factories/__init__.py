"""One factory per model, free of surprises: what a test cares about it names."""

from tests.factories.battles import GameFactory, SideFactory, SidePlayerFactory
from tests.factories.campaigns import CampaignFactory, EnlistedFactory, SeatFactory
from tests.factories.clubs import (
    ClubFactory,
    GuestFactory,
    MemberFactory,
    NightFactory,
    TableFactory,
    UserFactory,
    VenueFactory,
)
from tests.factories.rosters import RosterFactory, UnitFactory
from tests.factories.rulesets import EditionFactory, RulesetFactory
from tests.factories.seasons import EntrantFactory, RoundFactory, SeasonFactory
from tests.factories.stores import HoldingFactory, ItemKindFactory, LoanFactory, MovementFactory, PromiseFactory

__all__ = [
    "CampaignFactory",
    "ClubFactory",
    "EditionFactory",
    "EnlistedFactory",
    "EntrantFactory",
    "GameFactory",
    "GuestFactory",
    "HoldingFactory",
    "ItemKindFactory",
    "LoanFactory",
    "MemberFactory",
    "MovementFactory",
    "NightFactory",
    "PromiseFactory",
    "RosterFactory",
    "RoundFactory",
    "RulesetFactory",
    "SeasonFactory",
    "SeatFactory",
    "SideFactory",
    "SidePlayerFactory",
    "TableFactory",
    "UnitFactory",
    "UserFactory",
    "VenueFactory",
]
