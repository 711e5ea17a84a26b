from __future__ import annotations

from django.urls import path

from league.rulesets.views.reading import EditionPage, EditionsPage, RulesetJson, RulesetPage, RulesetsPage
from league.rulesets.views.writing import RulesetBringBack, RulesetDocument, RulesetEdit, RulesetNew, RulesetRetire

urlpatterns = [
    path("rulesets/", RulesetsPage.as_view(), name="rulesets"),
    path("rulesets/new/", RulesetNew.as_view(), name="ruleset-new"),
    path("rulesets/<int:pk>/", RulesetPage.as_view(), name="ruleset"),
    path("rulesets/<int:pk>/edit/<slug:section>/", RulesetEdit.as_view(), name="ruleset-edit"),
    path("rulesets/<int:pk>/document/", RulesetDocument.as_view(), name="ruleset-document"),
    path("rulesets/<int:pk>/ruleset.json", RulesetJson.as_view(), name="ruleset-json"),
    path("rulesets/<int:pk>/editions/", EditionsPage.as_view(), name="ruleset-editions"),
    path("rulesets/<int:pk>/editions/<int:number>/", EditionPage.as_view(), name="ruleset-edition"),
    path("rulesets/<int:pk>/editions/<int:number>/ruleset.json", RulesetJson.as_view(), name="ruleset-edition-json"),
    path("rulesets/<int:pk>/retire/", RulesetRetire.as_view(), name="ruleset-retire"),
    path("rulesets/<int:pk>/bring-back/", RulesetBringBack.as_view(), name="ruleset-bring-back"),
]
