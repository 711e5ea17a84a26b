"""What the documents promise about the house is there, and what is there is in the documents."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest
from django.core.management import get_commands

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
MAP = DEVELOPERS.split("## The map")[1].split("## ")[0]
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "manage.py",
    "pyproject.toml",
    "league",
    "accounts",
    "templates",
    "tests",
}


def parts_of(folder: str) -> list[str]:
    """The names of the modules and packages in a folder of ours."""
    found = [
        path.stem
        for path in (ROOT / folder).iterdir()
        if (path.is_dir() and (path / "__init__.py").exists()) or path.suffix == ".py"
    ]
    return sorted(name for name in found if name != "__init__")


@pytest.mark.parametrize("name", parts_of("league"))
def test_the_map_shows_every_part_of_the_house(name):
    assert re.search(rf"\b{name}\b", MAP)


@pytest.mark.parametrize("name", parts_of("league/engines"))
def test_the_map_shows_every_engine(name):
    assert re.search(rf"\b{name}\b", MAP)


def test_the_readme_lists_every_command_of_ours():
    ours = {name for name, app in get_commands().items() if app in {"league", "accounts"}}
    listed = set(re.findall(r"^\| `(\w+)", README, re.MULTILINE))
    assert listed == ours


def test_the_readme_lists_every_variable_that_settings_read():
    settings = (ROOT / "league" / "settings.py").read_text(encoding="utf-8")
    read = set(re.findall(r'(?:environ\.get|flag)\(\s*"(\w+)"', settings))
    described = settings.split('"""')[1]
    assert {name for name in read if name not in described} == set()


def test_the_top_level_holds_what_it_should_and_nothing_else():
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)  # noqa: S607
    if listed.returncode:
        pytest.skip("not a git checkout, so nothing tells our files from others")
    tops = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {top for top in tops if not top.startswith(".")} == TOP_LEVEL


def test_every_reference_folder_names_source_and_licence():
    folders = [path for path in (ROOT / "tests" / "reference").iterdir() if path.is_dir()]
    unnamed = [
        folder.name
        for folder in folders
        if not (folder / "README.md").exists()
        or "licence" not in (folder / "README.md").read_text(encoding="utf-8").lower()
    ]
    assert unnamed == []
