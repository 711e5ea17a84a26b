from django.apps import AppConfig


class RostersConfig(AppConfig):
    name = "league.rosters"
    label = "rosters"
    default_auto_field = "django.db.models.BigAutoField"
