"""What a ruleset asks of the kit box, by form and on the page."""

from __future__ import annotations

import pytest
from django.urls import reverse

from league.engines.rulesets import Extra, Wanted
from league.rulesets.models import Edition
from league.rulesets.queries import current_edition, rules_of, shipped_documents
from league.rulesets.services.rulesets import create_ruleset, revise_ruleset


def at(name, club, **kwargs):
    return reverse(name, kwargs={"club": club.slug, **kwargs})


@pytest.fixture
def edit(browse, organiser, club, ruleset, as_shown):
    """Open a section, type over what is shown, save."""

    def typed(section, changes):
        client, address = browse(organiser), at("ruleset-edit", club, pk=ruleset.pk, section=section)
        return client.post(address, {**as_shown(client.get(address).context["form"]), **changes})

    return typed


def kit_of(ruleset):
    return rules_of(current_edition(ruleset)).kit


NEW = 13  # the row after those of the shipped ruleset
DICE = {
    "name": "Ten-sided dice",
    "category": "die",
    "sides": 10,
    "per": "pool",
    "count": 1,
    "of": 2,
    "sharing": "apart",
    "gear": "muskets\ncarbines",
    "extras": "swivel gun: 6\nsmoke pots : 2",
    "most": 30,
    "spare": 2,
    "importance": "wanted",
    "make": "make",
    "classes": ["line", "riders"],
    "scenarios": ["cut_reeds"],
}


def typed_in(row, fields):
    return {f"{row}-{field}": value for field, value in fields.items()}


def test_a_need_is_written_by_form(edit, ruleset):
    assert edit("kit", typed_in(f"needs-{NEW}", DICE)).status_code == 302
    need = kit_of(ruleset).need("ten_sided_dice")
    assert need.wanted == Wanted(category="die", sides=10)
    assert (need.per, need.count, need.of, need.sharing) == ("pool", 1, 2, "apart")
    assert need.gear == ("muskets", "carbines")
    assert need.extras == (Extra(gear="swivel gun", count=6), Extra(gear="smoke pots", count=2))
    assert (need.most, need.spare, need.importance, need.make) == (30, 2, "wanted", "make")
    assert (need.classes, need.scenarios) == (("line", "riders"), ("cut_reeds",))


def test_a_need_of_a_few_words_takes_the_usual_numbers(edit, ruleset):
    mat = {"name": "Blue cloth", "category": "mat", "size": "6 x 4 ft", "per": "table", "count": "", "of": ""}
    edit("kit", typed_in(f"needs-{NEW}", mat))
    need = kit_of(ruleset).need("blue_cloth")
    assert need.wanted == Wanted(category="mat", size_mm=1829, depth_mm=1219)
    assert (need.count, need.of, need.sharing, need.spare) == (1, 1, "shared", 0)


@pytest.mark.parametrize(("typed", "size_mm"), [("3 in", 76), ("77 mm", 77), ("36 in", 914), ("2 cm", 20)])
def test_a_size_is_typed_with_its_unit(edit, ruleset, typed, size_mm):
    edit("kit", {"needs-5-size": typed})
    assert kit_of(ruleset).need("smoke").wanted.size_mm == size_mm


def test_the_height_of_the_figures_may_be_left_open(edit, ruleset):
    assert edit("kit", {"scale_mm": "", "scale_tolerance_mm": ""}).status_code == 302
    assert (kit_of(ruleset).scale_mm, kit_of(ruleset).scale_tolerance_mm) == (None, 0)


def test_what_makes_no_sense_is_told_beside_its_field(edit, ruleset):
    answer = edit("kit", typed_in(f"needs-{NEW}", DICE | {"category": "bag", "colour": "red"}))
    assert answer.status_code == 422
    row = answer.context["form"].sets[0][1].forms[NEW]
    assert set(row.errors) == {"sides", "sharing"}
    assert current_edition(ruleset).number == 1


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("size", "long"),
        ("size", "1, 2 and 3 in"),
        ("extras", "machine gun"),
        ("count", "-1"),
        ("count", "1001"),
        ("use", "Two Words"),
    ],
)
def test_what_cannot_be_read_is_told_beside_its_field(edit, field, value):
    answer = edit("kit", typed_in(f"needs-{NEW}", DICE | {field: value}))
    assert answer.status_code == 422
    assert field in answer.context["form"].sets[0][1].forms[NEW].errors


def test_a_stand_in_is_written_by_form(edit, ruleset):
    beads = {
        "need": "suppression",
        "category": "consumable",
        "use": "beads",
        "takes": 2,
        "covers": 3,
        "rank": 4,
        "loss": 5,
    }
    new = len(kit_of(ruleset).stand_ins)
    assert (
        edit("stand-ins", typed_in(f"stand_ins-{new}", beads | {"at_home": "on", "note": "Glass beads"})).status_code
        == 302
    )
    stand_in = kit_of(ruleset).stand_ins[-1]
    assert stand_in.piece == Wanted(category="consumable", use="beads")
    assert (stand_in.need, stand_in.takes, stand_in.covers, stand_in.rank, stand_in.loss) == ("suppression", 2, 3, 4, 5)
    assert (stand_in.at_home, stand_in.note) == (True, "Glass beads")


def test_a_need_that_stand_ins_speak_of_is_not_taken_away_under_them(edit, ruleset):
    answer = edit("kit", {"needs-0-DELETE": "on"})
    assert answer.status_code == 422
    assert "Kit, stand-ins, line 1, need" in answer.content.decode()


def test_a_ruleset_without_kit_gets_its_first_need_by_form(browse, organiser, club, as_shown):
    document = {key: value for key, value in shipped_documents()["ferry_skirmish"].items() if key != "kit"}
    ruleset = create_ruleset(club, document=document, by=organiser)
    client, address = browse(organiser), at("ruleset-edit", club, pk=ruleset.pk, section="kit")
    shown = as_shown(client.get(address).context["form"])
    client.post(address, {**shown, **typed_in("needs-0", {"name": "Bag", "category": "bag", "per": "table"})})
    assert [each.key for each in kit_of(ruleset).needs] == ["bag"]


def test_an_edition_from_before_there_was_a_kit_part_is_kept_as_it_was(browse, member, organiser, club):
    before = {key: value for key, value in shipped_documents()["ferry_skirmish"].items() if key != "kit"}
    ruleset = create_ruleset(club, document=before, by=organiser)
    revise_ruleset(ruleset, document=shipped_documents()["ferry_skirmish"], note="Kit", by=organiser)
    assert Edition.objects.get(ruleset=ruleset, number=1).document == before
    page = browse(member).get(at("ruleset-edition", club, pk=ruleset.pk, number=1)).content.decode()
    assert "Nothing is said of what a game asks of the kit box." in page


def test_the_page_says_the_needs_in_plain_words(browse, member, club, ruleset):
    page = browse(member).get(at("ruleset", club, pk=ruleset.pk)).content.decode()
    for words in (
        "Figures of 28 mm.",
        "1 for each unit; each its own, told apart by colour",
        "swivel gun adds 6; 36 are enough; one lot that the sides use in turn",
        "3 for every 4 units, in use at once; 1 to spare",
        "with muskets or swivel gun",
        "only in The Cut Reeds",
        "A book under the cloth",
        "turned to the number; loose markers are quicker (1 for 3)",
    ):
        assert words in page
