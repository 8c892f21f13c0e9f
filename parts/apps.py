from django.apps import AppConfig
from django.db.models.signals import post_migrate, pre_migrate


class PartsConfig(AppConfig):
    name = "parts"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self):
        from . import checks  # noqa: F401  (registers the database check)
        from .find_index import fold_anew_after_migration
        from .triggers import create_after_migration, drop_before_migration

        pre_migrate.connect(drop_before_migration, dispatch_uid="parts.triggers")
        post_migrate.connect(create_after_migration, dispatch_uid="parts.triggers")
        post_migrate.connect(fold_anew_after_migration, sender=self, dispatch_uid="parts.find_index")
