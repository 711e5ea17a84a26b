"""What a person does to their own account, and what the keeper of the site does to a person's."""

from __future__ import annotations

import secrets
from datetime import timedelta

from allauth.account.models import EmailAddress
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.models import ApiToken, User
from league.errors import Refused, Violation

__all__ = [
    "NameRefused",
    "TokenRefused",
    "admit_person",
    "change_name",
    "disable_person",
    "issue_token",
    "open_account",
    "revoke_token",
]

PREFIX = "dh_"  # lets a person, or a scanner of leaked secrets, see what it is
LONGEST_DAYS = 730
MOST_TOKENS = 50


class TokenRefused(Refused):
    """The token would not be in order."""


class NameRefused(Refused):
    """A person needs a name."""


@transaction.atomic
def issue_token(user: User, *, name: str, days: int = 365, may_write: bool = False) -> tuple[ApiToken, str]:
    """Make a token. The secret is returned here and nowhere else: only its digest is kept.

    Raises:
        TokenRefused: with every reason.
    """
    now = timezone.now()
    wrong = []
    if not name.strip():
        wrong.append(Violation(_("Say what the token is for."), "name", "missing"))
    if not 1 <= days <= LONGEST_DAYS:
        words = _("A token is good for 1 to %(most)s days.") % {"most": LONGEST_DAYS}
        wrong.append(Violation(words, "days", "range"))
    if ApiToken.objects.alive(now).filter(user=user).count() >= MOST_TOKENS:
        words = _("You have %(most)s tokens. Revoke one you no longer use.") % {"most": MOST_TOKENS}
        wrong.append(Violation(words, code="too_many"))
    if wrong:
        raise TokenRefused(wrong)
    secret = PREFIX + secrets.token_urlsafe(32)
    token = ApiToken.objects.create(
        user=user,
        name=name.strip(),
        digest=ApiToken.digest_of(secret),
        may_write=may_write,
        created_at=now,
        expires_at=now + timedelta(days=days),
    )
    return token, secret


@transaction.atomic
def revoke_token(token: ApiToken) -> ApiToken:
    """Close the token for ever. Revoking twice is revoking once: the first hour stands."""
    ApiToken.objects.filter(pk=token.pk, revoked_at=None).update(revoked_at=timezone.now())
    token.refresh_from_db()
    return token


@transaction.atomic
def change_name(user: User, *, name: str) -> User:
    """Change the name of the account; the names a person bears in clubs are changed there.

    Raises:
        NameRefused: the name is missing.
    """
    if not name.strip():
        raise NameRefused(Violation(_("Enter a name."), "name", "missing"))
    user.name = name.strip()
    user.save(update_fields=["name"])
    return user


@transaction.atomic
def open_account(*, email: str, name: str, password: str | None = None) -> User:
    """Open an account from the shell, its address taken as known to be right. An account that is there stays as it is.

    Without a password the person chooses one by the mail of the forgotten-password page.
    """
    there = User.objects.filter(email=email.strip().lower()).first()
    if there is not None:
        return there
    user = User.objects.create_user(email, password, name=name.strip())
    EmailAddress.objects.create(user=user, email=user.email, verified=True, primary=True)
    return user


@transaction.atomic
def disable_person(user: User) -> User:
    """Lock a person out: no sign-in, and every session and token they have is worthless for good.

    Sessions are bound to the password, so taking it away ends them even if the person is admitted again later.
    """
    user.is_active = False
    user.set_unusable_password()
    user.save(update_fields=["is_active", "password"])
    ApiToken.objects.filter(user=user, revoked_at=None).update(revoked_at=timezone.now())
    return user


@transaction.atomic
def admit_person(user: User) -> User:
    """Let a disabled person in again; they choose a new password by the mail of the forgotten-password page."""
    user.is_active = True
    user.save(update_fields=["is_active"])
    return user
