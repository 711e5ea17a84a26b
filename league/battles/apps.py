from django.apps import AppConfig


class BattlesConfig(AppConfig):
    name = "league.battles"
    label = "battles"
    default_auto_field = "django.db.models.BigAutoField"
