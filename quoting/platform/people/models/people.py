from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils import timezone
from django.utils.crypto import salted_hmac

from quoting.platform.models.bounds import between


class Role(models.TextChoices):
    ESTIMATOR = "estimator", "Estimator"
    OFFICE = "office", "Office"
    LEAD = "lead", "Lead carpenter"
    OWNER = "owner", "Owner"


class PersonManager(BaseUserManager["Person"]):
    def create_user(self, login_name: str, password: str | None = None, **fields: object) -> "Person":
        person = self.model(login_name=self.model.normalize_username(login_name), **fields)
        person.set_password(password)
        person.full_clean(exclude=["password"])
        person.save(using=self._db)
        return person


class Person(AbstractBaseUser):
    """Someone of the firm who can log in. What a role may do is stated beside each URL."""

    login_name = models.SlugField(
        "log-in name",
        max_length=60,
        unique=True,
        help_text="Letters, digits, hyphens and underscores.",
        error_messages={"unique": "Someone already logs in with this name; choose another."},
    )
    full_name = models.CharField(max_length=120)
    role = models.CharField(max_length=12, choices=Role.choices)
    is_active = models.BooleanField("may log in", default=True)
    joined_at = models.DateTimeField(default=timezone.now, editable=False)  # noqa: TID251 - shown nowhere
    times_logged_out = models.PositiveIntegerField("times logged out everywhere", default=0, editable=False)

    objects = PersonManager()

    USERNAME_FIELD = "login_name"
    REQUIRED_FIELDS = ["full_name", "role"]

    class Meta:
        verbose_name_plural = "people"
        ordering = ["full_name", "pk"]
        constraints = [
            models.CheckConstraint(condition=models.Q(role__in=Role.values), name="person_role_is_known"),
            models.CheckConstraint(condition=~models.Q(login_name=""), name="person_has_a_login_name"),
            between("person", "times_logged_out", 0, 1_000_000_000),
        ]

    def __str__(self) -> str:
        return self.full_name

    def _get_session_auth_hash(self, secret: str | None = None) -> str:
        """Sessions hold for one password, and until the person is logged out everywhere."""
        salt, rests_on = "quoting.platform.people.models.people.session", f"{self.password} {self.times_logged_out}"
        return salted_hmac(salt, rests_on, secret=secret, algorithm="sha256").hexdigest()
