"""A browser against a real server. Skipped, with the reason, where there is no browser; required where asked."""

from __future__ import annotations

import os
import shutil

import pytest

from tests.servers import Server

REQUIRED = os.environ.get("DRUMHEAD_BROWSER_REQUIRED") == "1"
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]
PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}


def pytest_collection_modifyitems(items):
    for item in items:
        if "/browser/" in str(item.path):
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.xdist_group("browser"))


@pytest.fixture(scope="session")
def chromium():
    path = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if path is None:
        if REQUIRED:
            pytest.fail("browser tests are required here and no Chromium was found on the path")
        pytest.skip("no Chromium on the path; install Debian's package chromium to run the browser tests")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """A migrated, empty site."""
    running = Server(tmp_path_factory.mktemp("site"))
    running.manage("migrate", "--verbosity", "0")
    running.start()
    yield running
    running.stop()


@pytest.fixture
def phone(chromium, server):
    context = chromium.new_context(base_url=server.url, locale="en-GB", **PHONE)
    yield context
    context.close()
