"""The figures that come with Cotter: how much metals contract, and how heavy materials are."""

from django.db import migrations
from django.utils import timezone

from inspections.domain.patterns import contractions, densities


def ship(apps, schema_editor):
    now = timezone.now()
    contraction, density = apps.get_model("parts", "Contraction"), apps.get_model("parts", "Density")
    if not contraction.objects.exists():
        contraction.objects.bulk_create(
            contraction(
                metal=row.metal,
                ratio="" if row.ratio is None else str(row.ratio),
                as_written=row.as_written,
                source=row.source,
                note=row.note,
                from_memory=row.from_memory,
                at=now,
            )
            for row in contractions()
        )
    if not density.objects.exists():
        density.objects.bulk_create(
            density(
                material=row.material,
                kg_m3=str(row.kg_m3),
                as_written=row.as_written,
                source=row.source,
                from_memory=row.from_memory,
                at=now,
            )
            for row in densities()
        )


class Migration(migrations.Migration):
    dependencies = [("parts", "0001_initial")]
    operations = [migrations.RunPython(ship, migrations.RunPython.noop)]
