"""A campaign's map as a drawing: where everything stands, and in words what it says.

Nothing here knows who may see what: what is handed in is drawn. A faction is told by its pattern and its letter, a road
by its line, a place by its sign; there is no colour that says anything by itself.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Protocol

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from league.campaigns.queries.drawing_parts import (
    Drawing,
    DrawnFaction,
    DrawnForce,
    DrawnRegion,
    DrawnRoad,
    ForceMark,
    Line,
    RegionMark,
    RoadMark,
    Sign,
)
from league.campaigns.queries.drawing_roads import drawn_roads
from league.campaigns.queries.drawing_words import CONDITIONS, KINDS, MARKS, SIGNS, letters_of, terrain_sign
from league.engines.maps import Map, Region
from league.engines.maps.cells import cells_of, spacing_of

__all__ = ["Drawing", "ForceMark", "RegionMark", "RoadMark", "drawing_of"]

PATTERNS: Final = 8
READING: Final = 0.72  # pixels to a unit: names are 18 units high, so they are read at 13 pixels
APART: Final = 175  # units between neighbours, so that the name of each has room
LEAST, MOST = 0.5, 4.0
MARGIN: Final = 95
WRAP: Final = 15  # a longer name goes on two lines
NAME_Y, LINE, FORCE_LINE, SIGNS_Y, SIGN = 36, 20, 24, -42, 26
LETTER_WIDTH: Final = 9  # of a letter of a force's name, about


class Party(Protocol):
    @property
    def key(self) -> str: ...
    @property
    def name(self) -> str: ...


def drawing_of(
    of: Map,
    *,
    control: Mapping[str, str],
    factions: Sequence[Party],
    forces: Iterable[ForceMark] = (),
    depots: Mapping[str, str] | None = None,
    contested: Collection[str] = (),
    roads_marked: Mapping[str, RoadMark] | None = None,
    regions_marked: Mapping[str, RegionMark] | None = None,
    unknown: Collection[str] = (),
    links: Mapping[str, str] | None = None,
    mine: str = "",
    prefix: str = "map",
) -> Drawing:
    """The drawing of a map.

    `control` and `depots`: region -> faction, by key. `forces`: as far as the reader knows them. `contested`: regions
    with a battle. `roads_marked`, `regions_marked`: what there is to say of supply. `unknown`: regions of which the
    reader does not know who holds them. `links`: region -> address of its page. `mine`: the reader's faction.
    `prefix` keeps several drawings on one page apart.
    """
    letters = letters_of(each.name for each in factions)
    held = Counter(control.get(each.key, "") for each in of.regions if each.key not in unknown)
    parties = {
        each.key: DrawnFaction(
            key=each.key,
            name=each.name,
            letter=letter,
            number=number + 1,
            pattern=number % PATTERNS + 1,
            mine=each.key == mine,
            regions=held[each.key],
        )
        for number, (each, letter) in enumerate(zip(factions, letters, strict=True))
    }
    spots, sheet = _places(of)
    roads = drawn_roads(of, spots, roads_marked or {})
    pen = _Pen(
        parties=parties,
        control=control,
        depots=depots or {},
        contested=contested,
        marked=regions_marked or {},
        unknown=unknown,
        links=links or {},
        ways=_ways(of, roads),
    )
    standing: defaultdict[str, list[ForceMark]] = defaultdict(list)
    for force in forces:
        standing[force.region].append(force)
    cells = cells_of(tuple(spots[each.key] for each in of.regions), sheet)
    regions = tuple(
        pen.region(each, spots[each.key], cell, standing[each.key])
        for each, cell in zip(of.regions, cells, strict=True)
    )
    left, top, right, bottom = sheet
    return Drawing(
        name=of.name,
        prefix=prefix,
        view_box=f"{left} {top} {right - left} {bottom - top}",
        width=round((right - left) * READING),
        height=round((bottom - top) * READING),
        told=_told(of, parties.values(), held, unknown),
        factions=tuple(parties.values()),
        regions=regions,
        roads=roads,
        terrains=_terrains(of),
        signs=_signs(regions, roads),
        kinds=tuple((kind, str(words)) for kind, words in KINDS.items() if any(each.kind == kind for each in roads)),
        has_links=bool(links),
    )


def _places(of: Map) -> tuple[dict[str, tuple[int, int]], tuple[int, int, int, int]]:
    """Where the regions stand in the drawing, and its sheet: left, top, right, bottom."""
    if not of.regions:
        return {}, (0, 0, 600, 300)
    apart = spacing_of([(each.x, each.y) for each in of.regions])
    stretch = min(max(APART / apart, LEAST), MOST) if apart else MOST
    spots = {each.key: (round(each.x * stretch), round(each.y * stretch)) for each in of.regions}
    across, down = [x for x, _y in spots.values()], [y for _x, y in spots.values()]
    return spots, (min(across) - MARGIN, min(down) - MARGIN, max(across) + MARGIN, max(down) + MARGIN + LINE)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Pen:
    """Draws regions and what stands in them."""

    parties: Mapping[str, DrawnFaction]
    control: Mapping[str, str]
    depots: Mapping[str, str]
    contested: Collection[str]
    marked: Mapping[str, RegionMark]
    unknown: Collection[str]
    links: Mapping[str, str]
    ways: Mapping[str, list[str]]

    def region(
        self, region: Region, spot: tuple[int, int], cell: Sequence[tuple[float, float]], standing: list[ForceMark]
    ) -> DrawnRegion:
        party = None if region.key in self.unknown else self.parties.get(self.control.get(region.key, ""))
        letter = "?" if region.key in self.unknown else party.letter if party else ""
        lines = [
            Line(words=words, y=spot[1] + NAME_Y + number * LINE)
            for number, words in enumerate(_two_lines(region.name))
        ]
        forces = tuple(
            self.force(force, spot[0], lines[-1].y + FORCE_LINE * (number + 1) - 2)
            for number, force in enumerate(standing)
        )
        features = self.features(region)
        return DrawnRegion(
            key=region.key,
            name=region.name,
            x=spot[0],
            y=spot[1],
            cell=" ".join(f"{round(x)},{round(y)}" for x, y in cell),
            terrain=region.terrain,
            stronghold=region.stronghold,
            holder=_("not known") if letter == "?" else party.name if party else _("nobody"),
            letter=letter,
            number=party.number if party else 0,
            pattern=party.pattern if party else 0,
            mine=bool(party and party.mine),
            lines=tuple(lines),
            signs=self.signs(region, spot[0]),
            signs_y=spot[1] + SIGNS_Y,
            features=features,
            forces=forces,
            contested=region.key in self.contested,
            mark=self.marked.get(region.key, ""),
            told=self.told(region, letter, features, forces),
            ways="; ".join(self.ways.get(region.key, ())),
            link=self.links.get(region.key, ""),
        )

    def signs(self, region: Region, x: int) -> tuple[Sign, ...]:
        wanted = [(terrain_sign(region.terrain), "")] if terrain_sign(region.terrain) else []
        wanted += [("port", "")] if region.port else []
        wanted += [("source", str(region.produces))] if region.produces else []
        wanted += [("depot", "")] if region.key in self.depots else []
        wanted += [("worth", str(region.worth))] if region.worth else []
        wide = [SIGN + LETTER_WIDTH * (len(number) + 1) if number else SIGN for _sign, number in wanted]
        at = x - sum(wide) // 2
        made = []
        for (sign, number), width in zip(wanted, wide, strict=True):
            made.append(Sign(sign=sign, x=at, number=number))
            at += width
        return tuple(made)

    def features(self, region: Region) -> str:
        told = [str(SIGNS["stronghold"])] if region.stronghold else []
        told += [str(SIGNS["port"])] if region.port else []
        told += [_("source of %(yield)s a turn") % {"yield": region.produces}] if region.produces else []
        depot = self.depots.get(region.key)
        if depot is not None:
            told.append(_("depot of %(faction)s") % {"faction": _name_of(self.parties, depot)})
        told += [_("worth %(points)s") % {"points": region.worth}] if region.worth else []
        return ", ".join(told)

    def told(self, region: Region, letter: str, features: str, forces: Sequence[DrawnForce]) -> str:
        """A region in one sentence, for whoever does not see the drawing."""
        party = self.parties.get(self.control.get(region.key, ""))
        if letter == "?":
            holder = _("holder not known")
        else:
            holder = _("held by %(faction)s") % {"faction": party.name} if party else _("held by nobody")
        mark = self.marked.get(region.key)
        told = [region.terrain, holder, features]
        told += [str(SIGNS["contested"])] if region.key in self.contested else []
        told += [str(MARKS[mark])] if mark else []
        told += [force.told for force in forces]
        return f"{region.name}: {', '.join(each for each in told if each)}"

    def force(self, force: ForceMark, x: int, y: int) -> DrawnForce:
        party = self.parties.get(force.faction)
        known = {"presence": _("size not known"), "size": _("about %(figures)s"), "units": _("%(figures)s figures")}
        size = ""
        if force.known == "presence" or force.figures is not None:
            size = known[force.known] % {"figures": force.figures}
        numbers = "?" if force.known == "presence" else "" if force.figures is None else str(force.figures)
        about = f"~{numbers}" if force.known == "size" and numbers else numbers
        words = f"{_short(force.name)} {about}".strip()
        told = [_name_of(self.parties, force.faction), size]
        told += [_("dug in")] if force.dug_in else []
        told += [str(CONDITIONS[force.condition])] if force.condition in CONDITIONS else []
        return DrawnForce(
            key=force.key,
            name=force.name,
            words=f"{words} !" if force.condition in CONDITIONS else words,
            told=f"{force.name} ({', '.join(each for each in told if each)})",
            letter=party.letter if party else "?",
            number=party.number if party else 0,
            pattern=party.pattern if party else 0,
            mine=bool(party and party.mine),
            known=force.known,
            x=x - (len(words) * LETTER_WIDTH + 28) // 2,
            y=y,
        )


def _ways(of: Map, roads: Iterable[DrawnRoad]) -> dict[str, list[str]]:
    """The roads of each region in words."""
    names = {each.key: each.name for each in of.regions}
    marks = {each.key: each.words for each in roads}
    ways: defaultdict[str, list[str]] = defaultdict(list)
    for road in of.roads:
        for here, there in ((road.a, road.b), (road.b, road.a)):
            told = _("%(region)s (%(kind)s, carries %(capacity)s)") % {
                "region": names.get(there, there),
                "kind": KINDS.get(road.kind, road.kind),
                "capacity": road.capacity,
            }
            mark = marks.get(road.key, "")
            ways[here].append(f"{told}: {mark}" if mark else told)
    return ways


def _name_of(parties: Mapping[str, DrawnFaction], key: str) -> str:
    return parties[key].name if key in parties else key


def _two_lines(name: str) -> list[str]:
    """A long name broken at the space that lies nearest to its middle."""
    spaces = [at for at, letter in enumerate(name) if letter == " "]
    if len(name) <= WRAP or not spaces:
        return [name]
    at = min(spaces, key=lambda place: abs(place - len(name) / 2))
    return [name[:at], name[at + 1 :]]


def _short(name: str, most: int = 18) -> str:
    return name if len(name) <= most else f"{name[: most - 1].rstrip()}…"


def _told(of: Map, parties: Iterable[DrawnFaction], held: Mapping[str, int], unknown: Collection[str]) -> str:
    """What the drawing shows, in a few sentences."""
    regions = ngettext("%(count)s region", "%(count)s regions", len(of.regions)) % {"count": len(of.regions)}
    roads = ngettext("%(count)s road", "%(count)s roads", len(of.roads)) % {"count": len(of.roads)}
    told = [_("%(regions)s and %(roads)s.") % {"regions": regions, "roads": roads}]
    for each in parties:
        words = _("%(faction)s (%(letter)s): %(count)s.")
        told.append(words % {"faction": each.name, "letter": each.letter, "count": each.regions})
    if held.get(""):
        told.append(_("Nobody: %(count)s.") % {"count": held[""]})
    if unknown:
        told.append(_("Not known: %(count)s.") % {"count": len(unknown)})
    return " ".join(told)


def _terrains(of: Map) -> tuple[tuple[str, str], ...]:
    """The terrains that have a sign, with their words as the campaign writes them."""
    words: defaultdict[str, list[str]] = defaultdict(list)
    for terrain in sorted({each.terrain for each in of.regions}):
        if terrain_sign(terrain):
            words[terrain_sign(terrain)].append(terrain)
    return tuple((sign, ", ".join(each)) for sign, each in sorted(words.items()))


def _signs(regions: Iterable[DrawnRegion], roads: Iterable[DrawnRoad]) -> tuple[tuple[str, str], ...]:
    used = {sign.sign for each in regions for sign in each.signs}
    used |= {"stronghold" for each in regions if each.stronghold}
    used |= {"contested" for each in regions if each.contested}
    used |= {"blocked" for each in regions if each.mark}
    used |= {each.mark for each in roads if each.mark}
    return tuple((sign, str(words)) for sign, words in SIGNS.items() if sign in used)
