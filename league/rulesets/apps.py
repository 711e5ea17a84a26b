from django.apps import AppConfig


class RulesetsConfig(AppConfig):
    name = "league.rulesets"
    label = "rulesets"
    default_auto_field = "django.db.models.BigAutoField"
