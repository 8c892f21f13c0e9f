from types import SimpleNamespace

from django.db import migrations, models
from django.db.migrations.state import ProjectState

from core.models.first_tables import FirstTables


class Editor:
    """Writes down what it is to make, each table with what its fields lead to."""

    connection, atomic_migration = SimpleNamespace(alias="default"), True

    def __init__(self):
        self.made = []

    def create_model(self, model):
        self.made.append((model.__name__, *map(said, model._meta.fields)))

    def add_field(self, model, field):
        self.made.append((model.__name__, said(field)))


def said(field):
    return field.name, field.related_model and field.related_model.__name__


def table(name, /, **fields):
    return migrations.CreateModel(name, [("id", models.BigAutoField(primary_key=True)), *fields.items()])


def to(other):
    return models.ForeignKey(other, models.PROTECT, related_name="+")


def made_by(way):
    migration, editor, before = way("0001_initial", "shop"), Editor(), ProjectState()
    assert before.apps
    migration.operations = [
        table("Piece", name=models.CharField(max_length=9)),
        table("Look", piece=to("shop.Piece")),
        migrations.AddField("piece", "last", to("shop.Look")),
        table("Decision", look=to("shop.Look"), piece=to("shop.Piece")),
        table("Order", decision=to("shop.Decision")),
    ]
    after = migration.apply(before, editor)
    return editor.made, {model.__name__: [*map(said, model._meta.fields)] for model in after.apps.get_models()}


def test_it_makes_what_django_makes_one_by_one():
    """Django's own way is the standard: django.db.migrations.Migration.apply."""
    made, after = made_by(FirstTables)
    assert len(made) == 5
    assert (made, after) == made_by(migrations.Migration)
