"""The plan of the house as a contract: imports, foreign keys and writes go one way only."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
from django.apps import apps

ROOT = Path(__file__).resolve().parent.parent

# Subjects from low to high; those on one line do not know each other.
SUBJECTS = [
    {"league.engines", "league.errors", "league.formats", "league.sqlite", "league.wording"},
    {"league.web", "league.api"},
    {"league.schema"},
    {"accounts"},
    {"league.clubs"},
    {"league.rulesets"},
    {"league.rosters"},
    {"league.battles"},
    {"league.stores", "league.seasons", "league.campaigns"},
    {"league.printing"},
    {"league.home", "league.management"},
    {"league.urls"},
]
LEVEL = {subject: level for level, line in enumerate(SUBJECTS) for subject in line}
# Settings compose, checks inspect the whole; template tags are wording.
COMPOSITION = {
    "league.settings",
    "league.checks",
    "league.logs",
    "league.apps",
    "league.wsgi",
    "league.asgi",
    "league.templatetags",
}

# Roles inside a room from low to high; those on one line may use each other.
ROLES = [
    {"apps", "hashers"},
    {"models"},
    {"permissions"},
    {"queries"},
    {"services"},
    {"adapter", "authentication", "scope"},
    {"forms", "tables", "serializers", "filters"},
    {"views", "endpoints"},
    {"urls", "api_urls"},
]
ROLE_LEVEL = {role: level for level, line in enumerate(ROLES) for role in line}
ROOMS = {
    "accounts",
    "league.clubs",
    "league.rulesets",
    "league.rosters",
    "league.battles",
    "league.seasons",
    "league.stores",
    "league.campaigns",
    "league.home",
}

# Engines know nothing of each other, but for the shared vocabulary of rulesets and maps, what text is, and the seam of documents.
ENGINES_ALL_MAY_USE = {"league.engines.rulesets", "league.engines.maps", "league.engines.text"}
# The forecast stands on the standings: what a season's games are worth is theirs to say. The war stands on supply,
# attrition, fates and strength: a turn is all of them, one after the other.
ENGINES_THAT_MAY_USE_ALL = {"league.engines.documents", "league.engines.forecast", "league.engines.war"}


def module_files() -> list[Path]:
    return sorted(
        path for top in ("league", "accounts") for path in (ROOT / top).rglob("*.py") if "migrations" not in path.parts
    )


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports_of(path: Path) -> set[str]:
    """Every module of ours that the file imports, as the longest name that is a module."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            found.add(node.module)
            found |= {f"{node.module}.{alias.name}" for alias in node.names if is_module(f"{node.module}.{alias.name}")}
    return {name for name in found if name.split(".")[0] in {"league", "accounts"}}


def is_module(name: str) -> bool:
    path = ROOT.joinpath(*name.split("."))
    return path.is_dir() or path.with_suffix(".py").exists()


def subject_of(name: str) -> str | None:
    parts = name.split(".")
    if parts[0] == "accounts":
        return "accounts"
    return ".".join(parts[:2]) if len(parts) > 1 else None


def role_of(name: str, room: str) -> str | None:
    rest = name.removeprefix(room).lstrip(".")
    return rest.split(".")[0] or None


PAIRS = [(module_name(path), imported) for path in module_files() for imported in sorted(imports_of(path))]


def test_every_subject_has_its_place_in_the_order():
    subjects = {subject_of(module_name(path)) for path in module_files()} - {None} - COMPOSITION
    assert subjects <= set(LEVEL)


def test_imports_between_subjects_only_go_down():
    upward = [
        f"{importer} -> {imported}"
        for importer, imported in PAIRS
        if (a := subject_of(importer)) in LEVEL
        and (b := subject_of(imported)) in LEVEL
        and a != b
        and LEVEL[a] <= LEVEL[b]
        and not (a == "league.api" and b == "league.web")
    ]
    assert upward == []


def test_every_file_of_a_room_has_a_known_role():
    strange = []
    for path in module_files():
        name = module_name(path)
        room = subject_of(name)
        role = role_of(name, room) if room in ROOMS else None
        if role and role not in ROLE_LEVEL:
            strange.append(name)
    assert strange == []


def test_imports_between_the_roles_of_a_room_only_go_down():
    upward = []
    for importer, imported in PAIRS:
        room = subject_of(importer)
        if room not in ROOMS or room != subject_of(imported):
            continue
        above, below = role_of(importer, room), role_of(imported, room)
        if above and below and ROLE_LEVEL[above] < ROLE_LEVEL[below]:
            upward.append(f"{importer} -> {imported}")
    assert upward == []


def engine_of(name: str) -> str:
    return ".".join(name.split(".")[:3])


def test_engines_know_neither_django_nor_the_rooms_nor_each_other():
    wrong = []
    for path in (ROOT / "league" / "engines").rglob("*.py"):
        importer = module_name(path)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.module:
                names = [node.module]
            for name in names:
                top = name.split(".")[0]
                foreign_engine = (
                    name.startswith("league.engines")
                    and engine_of(name) not in {engine_of(importer), "league.engines", *ENGINES_ALL_MAY_USE}
                    and engine_of(importer) not in ENGINES_THAT_MAY_USE_ALL
                )
                room = top in {"accounts", "league"} and not name.startswith("league.engines")
                if top in {"django", "rest_framework"} or room or foreign_engine:
                    wrong.append(f"{importer} -> {name}")
    assert wrong == []


@pytest.mark.parametrize("banned", ["datetime.now", "date.today", "time.time", "random.random", "random.choice"])
def test_engines_read_no_clock_and_throw_no_dice(banned):
    offenders = [
        module_name(path)
        for path in (ROOT / "league" / "engines").rglob("*.py")
        if f"{banned}(" in path.read_text(encoding="utf-8")
    ]
    assert offenders == []


def test_no_foreign_key_points_up():
    """Foreign keys named by string escape the import order, so they are checked on the loaded models."""
    upward = []
    for model in apps.get_models():
        here = subject_of(model.__module__)
        if here not in LEVEL:
            continue
        for field in model._meta.get_fields():
            if not (field.is_relation and field.concrete):
                continue
            there = subject_of(field.related_model.__module__)
            if there in LEVEL and here != there and LEVEL[here] <= LEVEL[there]:
                upward.append(f"{model.__name__}.{field.name} -> {field.related_model.__name__}")
    assert upward == []


def test_every_constraint_bears_a_name_of_its_own():
    names = [constraint.name for model in apps.get_models() for constraint in model._meta.constraints]
    assert len(names) == len(set(names))


def test_rows_are_written_by_services_only():
    writes = {"save", "bulk_create", "bulk_update", "delete", "get_or_create", "update_or_create"}
    offenders = []
    for path in module_files():
        name = module_name(path)
        room = subject_of(name)
        if room not in ROOMS or role_of(name, room) in {"services", "models"}:
            continue
        offenders += [
            f"{name}:{node.lineno} .{node.func.attr}()"
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in writes
        ]
    # allauth calls this form inside its own sign-up and its token authentication notes the hour of use.
    assert [each for each in offenders if not each.startswith("accounts.forms:")] == []


def test_saves_name_their_columns():
    offenders = [
        f"{module_name(path)}:{node.lineno}"
        for path in module_files()
        if module_name(path) != "accounts.models"
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "save"
        and not any(keyword.arg in {"update_fields", "force_insert"} for keyword in node.keywords)
        # Pillow's images are saved to a stream, not to a row.
        and not node.args
    ]
    assert offenders == []


def test_no_room_is_a_drawer_for_everything():
    drawers = {"common", "utils", "helpers", "misc", "core"}
    assert [path for path in module_files() if drawers & {part.removesuffix(".py") for part in path.parts}] == []
