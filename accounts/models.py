"""People who sign in, and the tokens their programs use. Knows no club."""

from __future__ import annotations

import hashlib
from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.contrib.auth.models import PermissionsMixin
from django.db import models
from django.db.models.functions import Lower
from django.utils import timezone
from django.utils.translation import gettext_lazy as _


class UserManager(BaseUserManager["User"]):
    def create_user(self, email: str, password: str | None = None, **columns: object) -> User:
        if not email:
            raise ValueError("A person who signs in needs an e-mail address.")
        user = self.model(email=email.strip().lower(), **columns)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def create_superuser(self, email: str, password: str | None = None, **columns: object) -> User:
        return self.create_user(email, password, is_superuser=True, **columns)

    def get_by_natural_key(self, username: str | None) -> User:
        return self.get(email=(username or "").strip().lower())


class User(AbstractBaseUser, PermissionsMixin):
    """One person's account; what they are in a club stands in `league.clubs.models.Member`."""

    email = models.EmailField(_("e-mail address"), unique=True)
    name = models.CharField(_("name"), max_length=80, help_text=_("As your club mates call you; a nickname will do."))
    is_active = models.BooleanField(default=True)
    joined_at = models.DateTimeField(default=timezone.now)

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS: ClassVar = ["name"]

    objects = UserManager()

    class Meta:
        constraints = [
            # Kept in lower case, so that `unique` means the same address however it is typed.
            models.CheckConstraint(condition=models.Q(email=Lower("email")), name="user_email_is_lower_case"),
        ]

    def __str__(self) -> str:
        return self.name or self.email

    @property
    def is_staff(self) -> bool:
        return self.is_superuser


def display_name(user: User) -> str:
    """What allauth's messages call a person."""
    return str(user)


class ApiTokenQuerySet(models.QuerySet["ApiToken"]):
    def visible_to(self, user: User) -> ApiTokenQuerySet:
        return self.filter(user=user.pk) if user.is_authenticated else self.none()

    def alive(self, now: object) -> ApiTokenQuerySet:
        return self.filter(revoked_at=None, expires_at__gt=now, user__is_active=True)


class ApiToken(models.Model):
    """A secret that lets a program act as a person. Only its digest is kept; the secret is shown once.

    SHA-256 without salt is enough because the secret itself has 256 random bits.
    """

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="api_tokens")
    name = models.CharField(_("what it is for"), max_length=80)
    digest = models.CharField(max_length=64, unique=True)
    may_write = models.BooleanField(_("may write"), default=False)
    created_at = models.DateTimeField()
    expires_at = models.DateTimeField(_("expires"))
    used_at = models.DateTimeField(_("last used"), null=True)
    revoked_at = models.DateTimeField(_("revoked"), null=True)

    objects = ApiTokenQuerySet.as_manager()

    def __str__(self) -> str:
        return self.name

    @staticmethod
    def digest_of(secret: str) -> str:
        return hashlib.sha256(secret.encode()).hexdigest()
