from django.apps import AppConfig


class CampaignsConfig(AppConfig):
    name = "league.campaigns"
    label = "campaigns"
    default_auto_field = "django.db.models.BigAutoField"
