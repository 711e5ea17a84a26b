"""Addresses of the kit under a club."""

from __future__ import annotations

from django.urls import path

from league.stores.views import enough, first_game, holdings, imports, kinds, labels, loans, nights, photos, spares

urlpatterns = [
    path("kit/", spares.SparesPage.as_view(), name="kit"),
    path("kit/mine/", holdings.MyKit.as_view(), name="my-kit"),
    path("kit/mine/list.csv", imports.KitFile.as_view(), name="kit-file"),
    path("kit/import/", imports.KitImport.as_view(), name="kit-import"),
    path("kit/club/", holdings.ClubKit.as_view(), name="club-kit"),
    path("kit/members/<int:member>/", holdings.MemberKit.as_view(), name="member-kit"),
    path("kit/kinds/", kinds.KindsPage.as_view(), name="kinds"),
    path("kit/kinds/new/", kinds.KindNew.as_view(), name="kind-new"),
    path("kit/kinds/<int:pk>/", kinds.KindPage.as_view(), name="kind"),
    path("kit/kinds/<int:pk>/edit/", kinds.KindEdit.as_view(), name="kind-edit"),
    path("kit/kinds/<int:pk>/retire/", kinds.KindRetire.as_view(), name="kind-retire"),
    path("kit/kinds/<int:pk>/bring-back/", kinds.KindBringBack.as_view(), name="kind-bring-back"),
    path("kit/kinds/<int:pk>/packs/new/", kinds.OfferNew.as_view(), name="offer-new"),
    path("kit/kinds/<int:pk>/packs/<int:offer>/withdraw/", kinds.OfferWithdraw.as_view(), name="offer-withdraw"),
    path("kit/holdings/new/", holdings.HoldingNew.as_view(), name="holding-new"),
    path("kit/holdings/<int:pk>/", holdings.HoldingPage.as_view(), name="holding"),
    path("kit/holdings/<int:pk>/edit/", holdings.HoldingEdit.as_view(), name="holding-edit"),
    path("kit/holdings/<int:pk>/place/", holdings.HoldingMove.as_view(), name="holding-move"),
    path("kit/holdings/<int:pk>/book/<slug:act>/", holdings.HoldingBook.as_view(), name="holding-book"),
    path("kit/holdings/<int:pk>/put-away/", holdings.HoldingRetire.as_view(), name="holding-retire"),
    path("kit/holdings/<int:pk>/take-out/", holdings.HoldingBringBack.as_view(), name="holding-bring-back"),
    path("kit/holdings/<int:pk>/photo/", photos.HoldingPhoto.as_view(), name="holding-photo"),
    path("kit/holdings/<int:pk>/photo/new/", photos.HoldingPhotoNew.as_view(), name="holding-photo-new"),
    path("kit/holdings/<int:pk>/photo/remove/", photos.HoldingPhotoRemove.as_view(), name="holding-photo-remove"),
    path("kit/holdings/<int:pk>/ask/", loans.LoanNew.as_view(), name="loan-new"),
    path("kit/holdings/<int:pk>/lend/", loans.LoanLend.as_view(), name="loan-lend"),
    path("kit/loans/", loans.LoansPage.as_view(), name="loans"),
    path("kit/loans/<int:pk>/", loans.LoanPage.as_view(), name="loan"),
    path("kit/loans/<int:pk>/agree/", loans.LoanAgree.as_view(), name="loan-agree"),
    path("kit/loans/<int:pk>/refuse/", loans.LoanRefuse.as_view(), name="loan-refuse"),
    path("kit/loans/<int:pk>/hand-over/", loans.LoanHandOver.as_view(), name="loan-hand-over"),
    path("kit/loans/<int:pk>/back/", loans.LoanBack.as_view(), name="loan-back"),
    path("kit/loans/<int:pk>/lost/", loans.LoanLost.as_view(), name="loan-lost"),
    path("kit/loans/<int:pk>/withdraw/", loans.LoanWithdraw.as_view(), name="loan-withdraw"),
    path("kit/loans/<int:pk>/remind/", loans.LoanRemind.as_view(), name="loan-remind"),
    path("kit/enough/", enough.EnoughPage.as_view(), name="enough"),
    path("kit/labels/", labels.LabelsPage.as_view(), name="labels"),
    path("rosters/<int:pk>/kit/", first_game.FirstGamePage.as_view(), name="roster-kit"),
    path("nights/<int:night>/kit/", nights.NightKitPage.as_view(), name="night-kit"),
    path("nights/<int:night>/kit/tables/", nights.TableSheets.as_view(), name="kit-tables"),
    path("nights/<int:night>/kit/carry/", nights.CarrySay.as_view(), name="carry"),
    path("nights/<int:night>/kit/part/", nights.PartTake.as_view(), name="take-part"),
    path("nights/<int:night>/kit/remind/", nights.PackingRemind.as_view(), name="packing-remind"),
    path("nights/<int:night>/kit/packing/", nights.PackingMine.as_view(), name="packing-mine"),
    path("nights/<int:night>/kit/packing/<int:member>/", nights.PackingPage.as_view(), name="packing"),
    path("nights/<int:night>/kit/promise/<int:holding>/", nights.PromiseNew.as_view(), name="promise-new"),
    path("nights/<int:night>/kit/promises/<int:pk>/pack/", nights.PromisePack.as_view(), name="promise-pack"),
    path("nights/<int:night>/kit/promises/<int:pk>/unpack/", nights.PromiseUnpack.as_view(), name="promise-unpack"),
    path(
        "nights/<int:night>/kit/promises/<int:pk>/withdraw/", nights.PromiseWithdraw.as_view(), name="promise-withdraw"
    ),
    path("kit/count/<slug:label>/", labels.CountPage.as_view(), name="count"),
]
