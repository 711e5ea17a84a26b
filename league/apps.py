from django.apps import AppConfig


class LeagueConfig(AppConfig):
    name = "league"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from league import checks  # noqa: F401, PLC0415 - registers the checks once apps are loaded
