"""Addresses of the kit in the API, under a club."""

from __future__ import annotations

from django.urls import URLPattern, path

from league.stores.endpoints import holdings, imports, kinds, loans, nights, spares

KIND = "kit/kinds/<int:pk>/"
HOLDING = "kit/holdings/<int:pk>/"
LOAN = "kit/loans/<int:pk>/"
NIGHT = "nights/<int:night>/kit/"
PROMISE = f"{NIGHT}promises/<int:pk>/"

urlpatterns: list[URLPattern] = [
    path("kit/spares/", spares.Spares.as_view(), name="api-spares"),
    path("kit/enough/", spares.Enough.as_view(), name="api-enough"),
    path("kit/cautions/", kinds.Cautions.as_view(), name="api-cautions"),
    path("kit/kinds/", kinds.Kinds.as_view({"get": "list", "post": "create"}), name="api-kinds"),
    path(KIND, kinds.Kinds.as_view({"get": "retrieve", "patch": "partial_update"}), name="api-kind"),
    path(f"{KIND}retire/", kinds.Kinds.as_view({"post": "retire"}), name="api-kind-retire"),
    path(f"{KIND}bring-back/", kinds.Kinds.as_view({"post": "bring_back"}), name="api-kind-bring-back"),
    path(f"{KIND}packs/", kinds.Packs.as_view({"post": "create"}), name="api-packs"),
    path(f"{KIND}packs/<int:offer>/", kinds.Packs.as_view({"delete": "destroy"}), name="api-pack"),
    path("kit/lists/", imports.KitLists.as_view(), name="api-kit-lists"),
    path("kit/holdings/", holdings.Holdings.as_view({"get": "list", "post": "create"}), name="api-holdings"),
    path(HOLDING, holdings.Holdings.as_view({"get": "retrieve", "patch": "partial_update"}), name="api-holding"),
    path(f"{HOLDING}retire/", holdings.Holdings.as_view({"post": "retire"}), name="api-holding-retire"),
    path(f"{HOLDING}bring-back/", holdings.Holdings.as_view({"post": "bring_back"}), name="api-holding-bring-back"),
    path(f"{HOLDING}movements/", holdings.Movements.as_view({"get": "list", "post": "create"}), name="api-movements"),
    path(
        f"{HOLDING}photo/",
        holdings.HoldingPhoto.as_view({"post": "create", "delete": "destroy"}),
        name="api-holding-photo",
    ),
    path(f"{HOLDING}loans/", loans.Lendings.as_view({"post": "create"}), name="api-lend"),
    path("kit/shelves/<slug:label>/", holdings.ShelfAt.as_view(), name="api-shelf"),
    path("kit/loans/", loans.Loans.as_view({"get": "list", "post": "create"}), name="api-loans"),
    path(LOAN, loans.Loans.as_view({"get": "retrieve"}), name="api-loan"),
    path(f"{LOAN}agree/", loans.Loans.as_view({"post": "agree"}), name="api-loan-agree"),
    path(f"{LOAN}hand-over/", loans.Loans.as_view({"post": "hand_over"}), name="api-loan-hand-over"),
    path(f"{LOAN}refuse/", loans.Loans.as_view({"post": "refuse"}), name="api-loan-refuse"),
    path(f"{LOAN}withdraw/", loans.Loans.as_view({"post": "withdraw"}), name="api-loan-withdraw"),
    path(f"{LOAN}back/", loans.Loans.as_view({"post": "back"}), name="api-loan-back"),
    path(f"{LOAN}lost/", loans.Loans.as_view({"post": "lost"}), name="api-loan-lost"),
    path(f"{LOAN}remind/", loans.Loans.as_view({"post": "remind"}), name="api-loan-remind"),
    path("rosters/<int:pk>/kit/", spares.FirstGame.as_view(), name="api-roster-kit"),
    path(NIGHT, nights.NightKit.as_view(), name="api-night-kit"),
    path(f"{NIGHT}packing/<int:member>/", nights.Packing.as_view(), name="api-packing"),
    path(f"{NIGHT}reminders/", nights.Reminders.as_view(), name="api-packing-remind"),
    path(f"{NIGHT}shopping/", nights.Shopping.as_view(), name="api-shopping"),
    path(f"{NIGHT}carrying/", nights.Carry.as_view(), name="api-carry"),
    path(f"{NIGHT}part/", nights.Part.as_view(), name="api-part"),
    path(f"{NIGHT}promises/", nights.Promises.as_view({"get": "list", "post": "create"}), name="api-promises"),
    path(PROMISE, nights.Promises.as_view({"delete": "destroy"}), name="api-promise"),
    path(f"{PROMISE}pack/", nights.Promises.as_view({"post": "pack"}), name="api-promise-pack"),
    path(f"{PROMISE}unpack/", nights.Promises.as_view({"post": "unpack"}), name="api-promise-unpack"),
]
