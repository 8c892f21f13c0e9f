"""The chain over everything that was signed, and over the events: see core/log/chain.py."""

from django.db import models


class Link(models.Model):
    """What one transaction wrote, in canonical form, with the digest of the link before in it. Never changed."""

    number = models.BigIntegerField(primary_key=True, help_text="in the order of commit, without a gap")
    at = models.DateTimeField()
    text = models.TextField(help_text="JSON, which the digest is over")
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["number"]

    def __str__(self):
        return f"link {self.number}"


class SignedTextQuerySet(models.QuerySet):
    def of(self, kind: str, numbers):
        return self.filter(kind=kind, number__in=list(numbers)).select_related("link")


class SignedText(models.Model):
    """One thing that was signed, as it was signed; its digest stands in the link."""

    link = models.ForeignKey(Link, on_delete=models.PROTECT, related_name="signed")
    kind = models.CharField(max_length=20)
    number = models.BigIntegerField()
    text = models.TextField()

    objects = SignedTextQuerySet.as_manager()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["kind", "number"], name="signed_once")]

    def __str__(self):
        return f"{self.kind} {self.number}"


class Head(models.Model):
    """The one row that a transaction holds while it appends a link: the last link, and which register this is."""

    register = models.CharField(max_length=12)
    lineage = models.CharField(max_length=12, help_text="another one since each restored backup")
    number = models.BigIntegerField(default=0)
    at = models.DateTimeField(null=True, blank=True)
    digest = models.CharField(max_length=64, blank=True, default="")

    def __str__(self):
        return f"{self.register}-{self.lineage}, link {self.number}"
