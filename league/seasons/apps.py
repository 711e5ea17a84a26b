from django.apps import AppConfig


class SeasonsConfig(AppConfig):
    name = "league.seasons"
    label = "seasons"
    default_auto_field = "django.db.models.BigAutoField"
