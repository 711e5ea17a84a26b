from django.apps import AppConfig


class ClubsConfig(AppConfig):
    name = "league.clubs"
    label = "clubs"
    default_auto_field = "django.db.models.BigAutoField"
