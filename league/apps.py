import gc
from typing import Final

from django.apps import AppConfig

# An answer about a large club makes tens of thousands of rows that all live until it is sent. Python's own rule, a look
# at the young ones after every 700, finds nothing to sweep among them and takes a quarter of the time.
YOUNG_ROWS: Final = 10_000


class LeagueConfig(AppConfig):
    name = "league"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from league import checks  # noqa: F401, PLC0415 - registers the checks once apps are loaded

        gc.set_threshold(YOUNG_ROWS, *gc.get_threshold()[1:])
